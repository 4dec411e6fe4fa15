import type { GroupMember } from '@quayside/sync-grouping';
import { RATES } from '@quayside/timecode';
import { expect, it } from 'vitest';
import { z } from 'zod';
import { clipOf, MADE_AT } from '../pottery-class.test-support.ts';
import { groupTimelineName, RECORD_NAMES } from '../record-names.ts';
import { renderShootRecords } from '../render-shoot-records.ts';
import type { PicturedGroup, ShootPicture } from '../shoot-picture.ts';
import { faultyClass } from '../shoots.test-support.ts';

// Source of the keys: the baselines of OpenTimelineIO's own tests at v0.17.0, less what later versions add.
const ITEM = ['OTIO_SCHEMA', 'metadata', 'name', 'source_range', 'effects', 'markers', 'enabled'];
const REFERENCE = ['OTIO_SCHEMA', 'metadata', 'name', 'available_range', 'available_image_bounds'];
const KEYS: Readonly<Record<string, readonly string[]>> = {
  'Timeline.1': ['OTIO_SCHEMA', 'metadata', 'name', 'global_start_time', 'tracks'],
  'Stack.1': [...ITEM, 'children'],
  'Track.1': [...ITEM, 'children', 'kind'],
  'Clip.2': [...ITEM, 'media_references', 'active_media_reference_key'],
  'Gap.1': ITEM,
  'ExternalReference.1': [...REFERENCE, 'target_url'],
  'MissingReference.1': REFERENCE,
  'TimeRange.1': ['OTIO_SCHEMA', 'duration', 'start_time'],
  'RationalTime.1': ['OTIO_SCHEMA', 'rate', 'value'],
};

type Found = Readonly<Record<string, unknown>>;

function objectsIn(value: unknown): readonly Found[] {
  if (Array.isArray(value)) return value.flatMap(objectsIn);
  const object = z.record(z.string(), z.unknown()).safeParse(value);
  if (!object.success) return [];
  const within = Object.values(object.data).flatMap(objectsIn);
  return 'OTIO_SCHEMA' in object.data ? [object.data, ...within] : within;
}

function objectsOf(text: string | undefined, schema: string): readonly Found[] {
  return objectsIn(JSON.parse(text ?? '')).filter((object) => object['OTIO_SCHEMA'] === schema);
}

it('every object has the keys of its schema in the standard, and no schema is used that older readers refuse', () => {
  const files = [...renderShootRecords(faultyClass())].filter(([name]) => name.endsWith('.otio'));
  const objects = files.flatMap(([, text]) => objectsIn(JSON.parse(text)));
  for (const object of objects) {
    expect(Object.keys(object).toSorted()).toEqual(KEYS[String(object['OTIO_SCHEMA'])]?.toSorted());
  }
  expect(new Set(objects.map((object) => object['OTIO_SCHEMA']))).toEqual(new Set(Object.keys(KEYS)));
});

/** 25 fps: `wheel` starts at 10:00:00:00 for 1500 frames, `hands` at 10:00:02:12 for 1400, `desk` at 09:59:58:00 for 64 s. */
function workedExample(): ShootPicture {
  const rate = RATES['25'];
  const wheel = clipOf({ recorder: 'wheel', from: '10:00:00:00', seconds: 60, rate });
  const hands = clipOf({ recorder: 'hands', from: '10:00:02:12', seconds: 56, rate });
  const desk = clipOf({ recorder: 'desk', from: '09:59:58:00', seconds: 64, rate });
  const member = (clip: typeof wheel, offset: readonly [number, number], length: number): GroupMember => ({
    clipId: clip.id,
    recorder: clip.recorder,
    role: clip.role,
    offset: { numerator: offset[0], denominator: offset[1] },
    offsetInFrames: Math.round((25 * offset[0]) / offset[1]),
    offsetInSamples: Math.round((48_000 * offset[0]) / offset[1]),
    sampleRate: 48_000,
    range: {
      unit: clip.role === 'sound' ? 'samples' : 'frames',
      rate: { numerator: clip.role === 'sound' ? 48_000 : 25, denominator: 1 },
      from: 0,
      length,
    },
    isShared: false,
    placedBy: 'timecode',
    confidence: 'sure',
    restsOn: 'Its own timecode.',
  });
  const group: PicturedGroup = {
    id: 'example',
    day: { date: '2026-11-25', isCertain: true },
    rate: { name: '25', numerator: 25, denominator: 1, isDropFrame: false },
    rateFrom: 'pictures',
    start: { count: 899_950, timecode: '09:59:58:00', secondsOfDay: { numerator: 35_998, denominator: 1 } },
    lengthInFrames: 1600,
    members: [member(desk, [0, 1], 3_072_000), member(wheel, [2, 1], 1500), member(hands, [112, 25], 1400)],
    edit: { state: 'editable' },
  };
  return {
    shoot: { id: 'pottery-class', name: 'Pottery class' },
    madeAt: MADE_AT,
    clips: [wheel, hands, desk].map((clip) => ({
      ...clip,
      place: `${clip.recorder}/${clip.rollId}/${clip.path}`,
      proxy: null,
    })),
    groups: [group],
    ungrouped: [],
    findings: [],
    proxies: null,
    guests: [],
  };
}

function at25(value: number): Found {
  return { OTIO_SCHEMA: 'RationalTime.1', rate: 25, value };
}

function at48k(value: number): Found {
  return { OTIO_SCHEMA: 'RationalTime.1', rate: 48_000, value };
}

it('a worked example has the numbers that arithmetic gives', () => {
  const text = renderShootRecords(workedExample()).get(groupTimelineName('example'));
  expect(objectsOf(text, 'Timeline.1')[0]?.['global_start_time']).toEqual(at25(899_950));
  expect(objectsOf(text, 'Track.1').map((track) => [track['kind'], track['name']])).toEqual([
    ['Video', 'hands'],
    ['Video', 'wheel'],
    ['Audio', 'desk'],
    ['Audio', 'wheel sound'],
    ['Audio', 'hands sound'],
  ]);
  // Gap A is 50 frames, gap B 112; the recorder has none.
  expect(objectsOf(text, 'Gap.1').map((gap) => gap['source_range'])).toEqual(
    [112, 50, 50, 112].map((frames) => ({ OTIO_SCHEMA: 'TimeRange.1', start_time: at25(0), duration: at25(frames) })),
  );
  expect(objectsOf(text, 'ExternalReference.1').map((reference) => reference['available_range'])).toMatchObject([
    { start_time: at25(900_062), duration: at25(1400) },
    { start_time: at25(900_000), duration: at25(1500) },
    { start_time: at48k(1_727_904_000), duration: at48k(3_072_000) },
    { start_time: at25(900_000) },
    { start_time: at25(900_062) },
  ]);
});

it('a reference resolves from the file to the clip, whatever its name', () => {
  const hostile = 'a #1?%41 & "b"/…/ключ\\:\u0001.mov';
  const name = 'x y/' + hostile;
  const clip = clipOf({ recorder: 'wheel', from: '10:00:00:00', seconds: 60, name });
  const picture = workedExample();
  const [group] = picture.groups;
  const members = group?.members.slice(1, 2).map((member) => ({ ...member, clipId: clip.id })) ?? [];
  const files = renderShootRecords({
    ...picture,
    clips: [{ ...clip, place: `wheel/roll/${name}`, proxy: null }],
    groups: group === undefined ? [] : [{ ...group, members }],
  });
  for (const file of [RECORD_NAMES.shootTimeline, groupTimelineName('example')]) {
    const url = objectsOf(files.get(file), 'ExternalReference.1')[0]?.['target_url'];
    // RFC 3986 resolution by the WHATWG URL parser, which is none of ours.
    const resolved = new URL(String(url), `file:///footage/pottery-class/records/${file}`);
    expect([resolved.search, resolved.hash]).toEqual(['', '']);
    expect(decodeURIComponent(resolved.pathname)).toBe(`/footage/pottery-class/wheel/roll/${name}`);
  }
});

it('a proxy stands beside its original with the same range, and the original stays the active one', () => {
  const picture = workedExample();
  const clips = picture.clips.map((clip) => ({
    ...clip,
    proxy: clip.recorder === 'wheel' ? 'records/plugins/p 1.mov' : null,
  }));
  const text = renderShootRecords({ ...picture, clips }).get(groupTimelineName('example'));
  const references = objectsOf(text, 'Clip.2').map((clip) => [
    clip['active_media_reference_key'],
    clip['media_references'],
  ]);
  const proxy = { target_url: '../../records/plugins/p%201.mov', available_range: { duration: at25(1500) } };
  expect(references).toMatchObject([
    ['DEFAULT_MEDIA', { DEFAULT_MEDIA: {} }],
    ['DEFAULT_MEDIA', { DEFAULT_MEDIA: {}, proxy }],
    ['DEFAULT_MEDIA', {}],
    ['DEFAULT_MEDIA', { proxy: { target_url: '../../records/plugins/p%201.mov' } }],
    ['DEFAULT_MEDIA', {}],
  ]);
  expect(text?.match(/"proxy":/g)).toHaveLength(2);
});

it('a clip that is not at this destination has no reference, but its range', () => {
  const picture = workedExample();
  const away = { ...picture, clips: picture.clips.map((clip) => ({ ...clip, place: null })) };
  const text = renderShootRecords(away).get(groupTimelineName('example'));
  expect(objectsOf(text, 'ExternalReference.1')).toEqual([]);
  expect(objectsOf(text, 'MissingReference.1')[0]?.['available_range']).toMatchObject({ duration: { value: 1400 } });
});

it('clips of one recorder that overlap lie on tracks of their own', () => {
  const picture = workedExample();
  const [group] = picture.groups;
  const members = group?.members.map((member) => ({ ...member, recorder: 'desk' })) ?? [];
  const files = renderShootRecords({
    ...picture,
    clips: picture.clips.map((clip) => ({ ...clip, recorder: 'desk' })),
    groups: group === undefined ? [] : [{ ...group, members }],
  });
  const tracks = objectsOf(files.get(groupTimelineName('example')), 'Track.1').map((track) => track['name']);
  expect(tracks).toEqual(['desk', 'desk 2', 'desk sound', 'desk sound 2', 'desk sound 3']);
});
