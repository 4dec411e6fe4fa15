import type { Clip, Ratio } from '@quayside/shoot';
import { countAtLabel, type Rate, RATES } from '@quayside/timecode';
import { describe, expect, it } from 'vitest';
import { HOSTILE_NAMES } from '../hostile-names.test-support.ts';
import { clipOf, pictureOf, take } from '../pottery-class.test-support.ts';
import { groupTimelineName, RECORD_NAMES } from '../record-names.ts';
import { renderShootRecords } from '../render-shoot-records.ts';
import type { PicturedGroup, ShootPicture } from '../shoot-picture.ts';
import { faultyClass, halfDay } from '../shoots.test-support.ts';
import {
  clipsRead,
  NO_READER,
  type ReadItem,
  type ReadTimeline,
  readTimelines,
  secondsOf,
} from './otio-reader.test-support.ts';

// The second opinion is the standard's own C++ library, OpenTimelineIO 0.18.1 as Debian packages it: it computes each range.

const title = `by the standard's own library${NO_READER === null ? '' : ` (${NO_READER})`}`;

function timelinesOf(picture: ShootPicture): ReadonlyMap<string, ReadTimeline> {
  return readTimelines(new Map([...renderShootRecords(picture)].filter(([name]) => name.endsWith('.otio'))));
}

/** The class at one rate: wheel stopped and started again within the take, sound before and after it, a take through midnight. */
function classAt(rate: Rate): readonly Clip[] {
  const mark = rate.drop > 0 ? ';' : ':';
  const restart = `10:00:30${mark}${rate.base > 100 ? '107' : '17'}`;
  return [
    ...take(`10:00:00${mark}00`, 60, { rate }).filter((clip) => clip.recorder !== 'wheel'),
    clipOf({ recorder: 'wheel', from: `10:00:00${mark}00`, seconds: 25, rate }),
    clipOf({ recorder: 'wheel', from: restart, seconds: 29, rate }),
    clipOf({ recorder: 'mix', from: `10:00:00${mark}00`, seconds: 110, rate }),
    clipOf({ recorder: 'desk', from: `09:59:50${mark}00`, seconds: 130, rate }),
    ...take(`23:59:30${mark}00`, 60, { rate }),
  ];
}

function expectGroup(read: ReadTimeline, group: PicturedGroup, clips: readonly Clip[]): void {
  expect(read.survivesRoundTrip).toBe(true);
  expect(read.globalStartTime).toEqual({
    value: group.start.count,
    rate: group.rate.numerator / group.rate.denominator,
  });
  expectLabel(read.labels, { rate: group.rate, count: group.start.count, label: group.start.timecode });
  const found = clipsRead(read);
  for (const member of group.members) {
    const clip = clips.find((one) => one.id === member.clipId);
    const uses = found.filter(({ written }) => written.clip_id === member.clipId.toWellFormed());
    expect(uses.map(({ kind }) => kind)).toEqual(member.range.unit === 'frames' ? ['Video', 'Audio'] : ['Audio']);
    for (const { item } of uses) {
      const rate = member.range.rate.numerator / member.range.rate.denominator;
      const own = numbersOf(clip);
      expect(item.key).toBe('DEFAULT_MEDIA');
      expect(item.availableRange).toEqual({
        start: { value: own.start, rate },
        duration: { value: own.length, rate },
      });
      expect(item.trimmedRange).toEqual({
        start: { value: own.start + member.range.from, rate },
        duration: { value: member.range.length, rate },
      });
      expect(item.rangeInParent.duration).toEqual({ value: member.range.length, rate });
      // Doubles: the library adds gaps at the greater rate, which 1001 makes inexact below a billionth of a second.
      const offset = member.offset.numerator / member.offset.denominator;
      expect(Math.abs(secondsOf(item.rangeInParent.start) - offset)).toBeLessThan(1e-9);
      if (member.range.unit === 'samples') continue;
      const label = clip?.facts.startTimecode ?? '';
      expectLabel(item.labels, { rate: member.range.rate, count: own.start, label });
    }
  }
  expect(found).toHaveLength(group.members.reduce((sum, member) => sum + (member.range.unit === 'frames' ? 2 : 1), 0));
}

/**
 * The library prints no timecode above 60 frames per second, nor drop frame at 30 and 60 over 1, and takes a day to be 86400 s
 * long also where its labels last longer (23:59:30:00 at 29.97 NDF is 00:00:56:12 to it): there is nothing to compare then.
 */
function expectLabel(
  read: ReadItem['labels'],
  own: { readonly rate: Ratio; readonly count: number; readonly label: string },
): void {
  const label = own.label.includes(';') ? read?.DF : read?.NDF;
  const isPastItsDay = own.count * own.rate.denominator >= 86_400 * own.rate.numerator;
  if (label != null && !isPastItsDay) expect(label).toBe(own.label);
}

/** The clip's own numbers, from what the class was made of. */
function numbersOf(clip: Clip | undefined): { readonly start: number; readonly length: number } {
  if (clip?.facts.picture == null) {
    return { start: clip?.facts.wave?.timeReference ?? -1, length: clip?.facts.sound[0]?.sampleCount ?? -1 };
  }
  const { rate, frameCount } = clip.facts.picture;
  const label = clip.facts.startTimecode ?? '';
  const own = Object.values(RATES).find(
    (one) =>
      one.numerator === rate?.numerator && one.denominator === rate.denominator && one.drop > 0 === label.includes(';'),
  );
  return { start: own === undefined ? -1 : countAtLabel(label, own), length: frameCount ?? -1 };
}

function expectGroups(picture: ShootPicture): ReadonlyMap<string, ReadTimeline> {
  const read = timelinesOf(picture);
  expect(picture.groups.length).toBeGreaterThan(0);
  for (const group of picture.groups) {
    const timeline = read.get(groupTimelineName(group.id));
    if (timeline === undefined) throw new Error(`no timeline of ${group.id}`);
    expectGroup(timeline, group, picture.clips);
  }
  return read;
}

describe.skipIf(NO_READER !== null)(`timelines are read as they were meant, ${title}`, () => {
  it.each(Object.values(RATES))('at $name', (rate) => {
    const picture = pictureOf(classAt(rate));
    expect(picture.groups.map((group) => group.rate.name)).toEqual([rate.name, rate.name]);
    expectGroups(picture);
  });

  it('with mixed rates, whose offsets are no whole frames of either', () => {
    const picture = pictureOf([
      ...take('10:00:00:00', 60),
      clipOf({ recorder: 'guest', from: '09:59:59:07', seconds: 61, rate: RATES['29.97 NDF'] }),
      clipOf({ recorder: 'far', from: '10:00:00:03', seconds: 61, rate: RATES['25'] }),
      clipOf({ recorder: 'near', from: '10:00:00;05', seconds: 59, rate: RATES['59.94 DF'] }),
    ]);
    expect(picture.groups).toHaveLength(1);
    expect(new Set(picture.groups[0]?.members.map((member) => member.offset.denominator)).size).toBeGreaterThan(1);
    expectGroups(picture);
  });

  it('with mistakes, and with one sound file through ten takes', () => {
    for (const picture of [faultyClass(), halfDay()]) expectGroups(picture);
  });

  it('of the shoot: each clip lies where its own timecode is on the timeline', () => {
    const picture = halfDay();
    const read = expectGroups(picture).get(RECORD_NAMES.shootTimeline);
    if (read === undefined) throw new Error('no timeline of the shoot');
    expect(read.survivesRoundTrip).toBe(true);
    const zero = secondsOf(read.globalStartTime);
    const found = clipsRead(read);
    expect(found).toHaveLength(
      picture.groups
        .flatMap((group) => group.members)
        .reduce((sum, member) => sum + (member.range.unit === 'frames' ? 2 : 1), 0),
    );
    for (const { item } of found) {
      const ownTime = secondsOf(item.trimmedRange.start);
      expect(Math.abs(zero + secondsOf(item.rangeInParent.start) - ownTime)).toBeLessThan(1e-6);
    }
  });

  it('of another day that begins at the same timecode: the shoot’s timeline goes round once more', () => {
    const picture = pictureOf([...take('00:00:00:00', 60), ...take('00:00:00:00', 60, { day: 1 })]);
    expect(picture.groups).toHaveLength(2);
    const read = timelinesOf(picture).get(RECORD_NAMES.shootTimeline);
    if (read === undefined) throw new Error('no timeline of the shoot');
    const starts = clipsRead(read)
      .filter(({ track }) => track === 'wheel')
      .map(({ item }) => item.rangeInParent.start);
    expect(starts).toEqual([
      { value: 0, rate: 24_000 / 1001 },
      { value: RATES['23.976'].labelsPerDay, rate: 24_000 / 1001 },
    ]);
  });

  it('with names of any kind', () => {
    const names = HOSTILE_NAMES.map((name, at) => `${at}/${name}`);
    const picture = pictureOf(
      names.flatMap((name, at) => take(`10:${String(at).padStart(2, '0')}:00:00`, 20, { name })),
    );
    const read = expectGroups(picture);
    const found = clipsRead(read.get(RECORD_NAMES.shootTimeline) ?? fail());
    expect(new Set(found.map(({ written }) => written.path))).toEqual(
      new Set(names.map((name) => name.toWellFormed())),
    );
  });

  it('of a shoot without any group: empty, from zero', () => {
    const picture = pictureOf([
      clipOf({ recorder: 'kiln', from: '10:00:00:00', seconds: 5, facts: { startTimecode: null } }),
    ]);
    const read = timelinesOf(picture).get(RECORD_NAMES.shootTimeline);
    expect(read).toMatchObject({ globalStartTime: { value: 0, rate: 25 }, tracks: [] });
  });
});

function fail(): never {
  throw new Error('the library read no such timeline');
}
