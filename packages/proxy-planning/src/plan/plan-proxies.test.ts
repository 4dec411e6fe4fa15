import type { Clip } from '@quayside/shoot';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { clip, outline, plan } from '../clips.test-support.ts';
import { ProxyPolicy } from '../policy/proxy-policy.ts';
import { ProxyPlan } from './proxy-plan.ts';

it('every clip has a proxy or a reason, in a sentence', () => {
  const { clips } = plan([
    clip('uhd.mov'),
    clip('hd.mov', { picture: { width: 1920, height: 1080 } }),
    clip('desk.wav', { facts: { kind: 'sound', picture: null } }),
    clip('notes.txt', { facts: { kind: 'other', picture: null } }),
    clip('broken.mov', { facts: { damage: [{ kind: 'no-index', why: 'it has no index' }] } }),
    clip('no-rate.mov', { picture: { rate: null } }),
  ]);
  expect(clips.map(({ path, state, why }) => [path, state, why])).toEqual([
    ['uhd.mov', 'planned', 'It has 3840x2160 pixels, more than 1920x1080 (rule "larger than HD").'],
    ['broken.mov', 'impossible', 'It is damaged: it has no index'],
    ['desk.wav', 'not-needed', 'It is sound, which is edited as it is.'],
    ['hd.mov', 'not-needed', 'No rule asks for a proxy of it; it is edited as it is.'],
    [
      'no-rate.mov',
      'impossible',
      'It should get a proxy by rule "larger than HD", but it does not say its frame rate. Look at it on its recorder.',
    ],
    ['notes.txt', 'not-needed', 'It is no clip.'],
  ]);
});

it('a proxy has rate, frames, timecode and every sound channel of its original', () => {
  const rate = { numerator: 30_000, denominator: 1001 };
  const sound = [1, 2, 5].map((channels) => ({
    codec: 'PCM',
    channels,
    sampleRate: 48_000,
    bitDepth: channels === 1 ? 16 : 24,
    sampleCount: 1,
  }));
  const original = clip('a.mov', {
    picture: { rate, frameCount: 1798 },
    facts: { startTimecode: '01:00:59;28', sound },
  });
  expect(plan([original]).clips[0]).toMatchObject({
    proxy: {
      codec: 'prores-422-proxy',
      megabits: null,
      width: 1920,
      height: 1080,
      rate,
      frameCount: 1798,
      startTimecode: '01:00:59;28',
      sound: [
        { channels: 1, sampleRate: 48_000, bitDepth: 16 },
        { channels: 2, sampleRate: 48_000, bitDepth: 24 },
        { channels: 5, sampleRate: 48_000, bitDepth: 24 },
      ],
    },
  });
});

it('the bytes are those of the publisher’s table, with the sound counted', () => {
  // 38 Mb/s, rounded, at 1920x1080 and 25 (the publisher's table), 2 x 1.152 Mb/s of sound, one hundredth for the container, one minute.
  const [only] = plan([clip('a.mov')]).clips;
  const expected = ((38 + 2.304) * 1.01 * 60 * 1e6) / 8;
  if (only?.state !== 'planned') throw new Error('no proxy');
  expect(only.bytes.basis).toBe('published table');
  expect(Math.abs(only.bytes.expected / expected - 1)).toBeLessThan(0.5 / 38);
});

it('the first rule that holds decides', () => {
  const policy = ProxyPolicy.parse({
    rules: [
      { name: 'not the wide shot', when: { recorder: ['wide'] }, make: 'none' },
      { name: 'small ones', when: { codec: ['h264'], shorterThanSeconds: 90 }, make: 'h264', within: '1280x720' },
      { name: 'all others', make: 'prores-422-proxy' },
    ],
  });
  const clips = [
    clip('a.mov', { recorder: 'wide' }),
    clip('b.mov', { picture: { codec: 'H.264' } }),
    clip('c.mov', { picture: { codec: 'H.264', frameCount: 3000 }, facts: { durationMs: 120_000 } }),
  ];
  expect(outline(plan(clips, {}, policy))).toEqual([
    'b.mov planned h264 1280x720',
    'c.mov planned prores-422-proxy 1920x1080',
    'a.mov not-needed',
  ]);
});

it('a condition on what the clip does not tell does not hold', () => {
  const policy = ProxyPolicy.parse({ rules: [{ name: 'deep', when: { deeperThan: 8 }, make: 'h264' }] });
  expect(outline(plan([clip('a.mov', { picture: { bitDepth: null } })], {}, policy))).toEqual(['a.mov not-needed']);
});

const TAKES = ['1', '2', '3'].flatMap((take) =>
  ['wheel', 'hands'].map((recorder) => clip(`${take}.mov`, { recorder })),
);
const GROUPS = ['1', '2', '3'].map((take) => ({
  id: `take-${take}`,
  clipIds: [`wheel-1/${take}.mov`, `hands-1/${take}.mov`],
  isComplete: take !== '3',
}));

it('the newest complete take comes first, then older ones, then incomplete ones, then clips of no take by their age', () => {
  const strays = [
    clip('old.mov', { modifiedAt: '2026-11-25T09:00:00.000Z' }),
    clip('new.mov', { modifiedAt: '2026-11-25T19:00:00.000Z' }),
  ];
  const { clips } = plan([...strays, ...TAKES], { groups: GROUPS });
  expect(clips.map(({ clipId }) => clipId)).toEqual([
    'hands-1/2.mov',
    'wheel-1/2.mov',
    'hands-1/1.mov',
    'wheel-1/1.mov',
    'hands-1/3.mov',
    'wheel-1/3.mov',
    'wheel-1/new.mov',
    'wheel-1/old.mov',
  ]);
});

it('what does not fit is left out, whole takes at a time, and says why', () => {
  const one = plan([clip('a.mov')]).totals.planned.bytes.high;
  const { clips, totals, budget } = plan(TAKES, { groups: GROUPS, space: { place: 'primary', bytes: one * 3 } });
  expect(clips.map(({ groupId, state }) => `${groupId} ${state}`)).toEqual([
    'take-2 planned',
    'take-2 planned',
    'take-1 left-out',
    'take-1 left-out',
    'take-3 left-out',
    'take-3 left-out',
  ]);
  expect(budget).toEqual({ bytes: one * 3, setBy: 'free space', place: 'primary' });
  expect([totals.planned.count, totals.leftOut.count]).toEqual([2, 4]);
  expect(clips[2]?.why).toMatch(
    /The proxies of its take may need 6\d\d MB, and of the free space at primary 3\d\d MB are left/,
  );
});

it('the tighter of budget and free space counts', () => {
  const policy = ProxyPolicy.parse({ budgetBytes: 1000 });
  expect(plan(TAKES, { space: { place: 'primary', bytes: 1e12 } }, policy).budget).toMatchObject({ setBy: 'policy' });
  expect(plan(TAKES, { space: { place: 'primary', bytes: 10 } }, policy).budget).toMatchObject({ setBy: 'free space' });
});

const anyClip: fc.Arbitrary<Clip> = fc
  .record({
    name: fc.integer({ min: 0, max: 500 }),
    recorder: fc.constantFrom('wheel', 'hands', 'kiln'),
    width: fc.integer({ min: 2, max: 8192 }),
    height: fc.integer({ min: 2, max: 4320 }),
    frameCount: fc.option(fc.integer({ min: 0, max: 100_000 }), { nil: null }),
    codec: fc.constantFrom('ProRes', 'H.264', 'H.265'),
  })
  .map(({ name, recorder, ...picture }) => clip(`${name}.mov`, { recorder, picture }));
const anyClips = fc.uniqueArray(anyClip, { selector: ({ id }) => id, maxLength: 40 });
const anyGroups = fc.array(fc.record({ from: fc.integer({ min: 0, max: 500 }), isComplete: fc.boolean() }), {
  maxLength: 8,
});

it('never exceeds its budget, names every clip once, and is the same whatever order the clips come in', () => {
  fc.assert(
    fc.property(anyClips, anyGroups, fc.integer({ min: 0, max: 5_000_000_000 }), (clips, found, bytes) => {
      const groups = found.map(({ from, isComplete }, index) => ({
        id: `take-${index}`,
        isComplete,
        clipIds: clips.filter(({ path }) => Math.abs(Number.parseInt(path, 10) - from) < 60).map(({ id }) => id),
      }));
      const context = { groups, space: { place: 'primary', bytes } };
      const made = plan(clips, context);
      expect(made.totals.planned.bytes.high).toBeLessThanOrEqual(bytes);
      expect(made.clips.map(({ clipId }) => clipId).toSorted()).toEqual(clips.map(({ id }) => id).toSorted());
      expect(plan(clips.toReversed(), context)).toEqual(made);
      expect(ProxyPlan.parse(JSON.parse(JSON.stringify(made)))).toEqual(made);
      for (const one of made.clips) {
        if (one.state === 'planned') expect(one.bytes.low).toBeLessThanOrEqual(one.bytes.expected);
        if (one.state === 'planned') expect(one.seconds.expected).toBeLessThanOrEqual(one.seconds.high);
      }
    }),
    { numRuns: 150 },
  );
});
