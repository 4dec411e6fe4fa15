import type { Clip } from '@quayside/shoot';
import { type Rate, RATES, printLabel } from '@quayside/timecode';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupBySync } from './group-by-sync.ts';
import { GroupingResult } from './grouping-result.ts';
import { CONTEXT, group, pictureClip, POLICY, soundClip } from './pottery-class.test-support.ts';

const CAMERAS = ['wheel', 'hands', 'wide', 'kiln'];

interface PlannedTake {
  readonly pause: number;
  readonly frames: number;
  readonly lags: readonly number[];
}

interface PlannedDay {
  readonly start: number;
  readonly takes: readonly PlannedTake[];
  readonly hasSound: boolean;
  readonly hasMix: boolean;
}

/** Common practice: takes with pauses between them, followers a few frames late, sound and program through all of it. */
const day: fc.Arbitrary<PlannedDay> = fc.record({
  start: fc.nat({ max: 8 * 3600 * 24 }),
  takes: fc.array(
    fc.record({
      pause: fc.integer({ min: 240, max: 20_000 }),
      frames: fc.integer({ min: 100, max: 50_000 }),
      lags: fc.array(fc.nat({ max: 6 }), { minLength: 4, maxLength: 4 }),
    }),
    { minLength: 1, maxLength: 8 },
  ),
  hasSound: fc.boolean(),
  hasMix: fc.boolean(),
});
const rate = fc.constantFrom(RATES['23.976'], RATES['25'], RATES['29.97 DF'], RATES['59.94 NDF']);

function clipsOf(
  planned: PlannedDay,
  shoot: { readonly rate: Rate; readonly day: number; readonly shift?: number },
): readonly Clip[] {
  const base = planned.start + (shoot.shift ?? 0);
  const at = (count: number): { from: string; rate: Rate; date: string; name: string } => {
    // The calendar knows nothing of labels: it says when, from nine o'clock on.
    const sinceStart =
      ((count - planned.start - (shoot.shift ?? 0)) * 1000 * shoot.rate.denominator) / shoot.rate.numerator;
    const date = new Date(Date.UTC(2026, 10, 25 + shoot.day, 9) + sinceStart).toISOString();
    return { from: printLabel(count, shoot.rate), rate: shoot.rate, date, name: `day-${shoot.day}-${count - base}` };
  };
  let count = base + 5000;
  const clips = planned.takes.flatMap((take) => {
    const from = count + take.pause;
    count = from + take.frames;
    return CAMERAS.map((recorder, camera) => {
      const lag = take.lags[camera] ?? 0;
      return pictureClip({ recorder, ...at(from + lag), length: take.frames });
    });
  });
  const length = count - base + 2000;
  const seconds = Math.ceil((length * shoot.rate.denominator) / shoot.rate.numerator);
  return [
    ...clips,
    ...(planned.hasSound ? [soundClip({ recorder: 'desk', ...at(base), length: seconds })] : []),
    ...(planned.hasMix ? [pictureClip({ recorder: 'mix', ...at(base), length })] : []),
  ];
}

/** What stays when all is shifted. The samples of a time reference are whole, but no frame need begin on one: sound may move by one. */
function placesIn(result: GroupingResult | undefined): unknown {
  return result?.groups.map((is) =>
    Object.fromEntries(
      is.members.map(({ recorder, offsetInFrames, isShared, range }) => [
        recorder,
        { offsetInFrames, isShared, range: range.unit === 'frames' ? range : null },
      ]),
    ),
  );
}

/** Clips as no shoot ever had them: any timecode, any date, any length, overlapping within one recorder, without timecode, damaged. */
const wildClip: fc.Arbitrary<Clip> = fc
  .record({
    recorder: fc.constantFrom(...CAMERAS, 'mix', 'desk'),
    count: fc.oneof(fc.nat({ max: 2_073_599 }), fc.nat({ max: 3000 }), fc.integer({ min: 2_070_000, max: 2_073_599 })),
    length: fc.oneof(fc.nat({ max: 5 }), fc.nat({ max: 5000 }), fc.nat({ max: 2_000_000 })),
    rate: fc.constantFrom(RATES['23.976'], RATES['24'], RATES['25'], RATES['47.952'], RATES['50']),
    dateMs: fc.oneof(
      fc.nat({ max: 86_400_000 }),
      fc.nat({ max: 20 * 86_400_000 }),
      fc.integer({ min: -400 * 86_400_000, max: 0 }),
    ),
    hasTimecode: fc.integer({ min: 0, max: 9 }),
  })
  .map(({ recorder, count, length, rate: ofClip, dateMs, hasTimecode }) => {
    const date = new Date(Date.UTC(2026, 10, 25) + dateMs).toISOString();
    const recording = {
      recorder,
      from: printLabel(count, ofClip),
      rate: ofClip,
      date,
      name: `${count}-${length}-${dateMs}-${ofClip.name}`,
    };
    const facts = hasTimecode === 0 ? { startTimecode: null, wave: null } : {};
    return recorder === 'desk'
      ? soundClip({ ...recording, length: length / 25, facts })
      : pictureClip({ ...recording, length, facts });
  })
  .map((clip) => ({
    ...clip,
    facts: {
      ...clip.facts,
      sound: clip.facts.sound.map((sound) => ({ ...sound, sampleCount: Math.round(sound.sampleCount ?? 0) })),
    },
  }));
const wildShoot = fc.uniqueArray(wildClip, { maxLength: 60, selector: (clip) => clip.id });

describe('grouping', () => {
  it('of a clean shoot gives each take once, with everyone in it, and no finding', () => {
    fc.assert(
      fc.property(fc.array(day, { minLength: 1, maxLength: 3 }), rate, (days, ofShoot) => {
        const result = group(days.flatMap((one, at) => clipsOf(one, { rate: ofShoot, day: at })));
        expect(result.groups).toHaveLength(days.reduce((sum, one) => sum + one.takes.length, 0));
        const wanted = days.flatMap((one) => one.takes.map(() => 4 + Number(one.hasSound) + Number(one.hasMix)));
        expect(result.groups.map((one) => one.members.length)).toEqual(wanted);
        expect(result.findings).toEqual([]);
        expect(result.ungrouped).toEqual([]);
      }),
    );
  });

  it('does not depend on the order of the clips', () => {
    fc.assert(
      fc.property(
        wildShoot.chain((clips) =>
          fc.tuple(fc.constant(clips), fc.shuffledSubarray(clips, { minLength: clips.length })),
        ),
        ([clips, shuffled]) => {
          expect(group(shuffled)).toEqual(group(clips));
        },
      ),
    );
  });

  it('of each day by itself gives the groups of all days together', () => {
    fc.assert(
      fc.property(fc.array(day, { minLength: 2, maxLength: 4 }), rate, (days, ofShoot) => {
        const each = days.map((one, at) => clipsOf(one, { rate: ofShoot, day: at }));
        expect(group(each.flat()).groups).toEqual(each.flatMap((clips) => group(clips).groups));
      }),
    );
  });

  it('of clips that are all shifted gives all groups shifted', () => {
    fc.assert(
      fc.property(day, rate, fc.nat({ max: 2_589_407 }), (one, ofShoot, shift) => {
        const [before, after] = [
          clipsOf(one, { rate: ofShoot, day: 0 }),
          clipsOf(one, { rate: ofShoot, day: 0, shift }),
        ].map(group);
        const counts = before?.groups.map((was) => (was.start.count + shift) % ofShoot.labelsPerDay);
        expect(after?.groups.map((is) => is.start.count)).toEqual(counts);
        expect(placesIn(after)).toEqual(placesIn(before));
      }),
    );
  });

  it('loses no clip, and puts none into two groups but those that it calls shared', () => {
    fc.assert(
      fc.property(wildShoot, (clips) => {
        const result = group(clips);
        const ungrouped = new Set(result.ungrouped.map((one) => one.clipId));
        for (const clip of clips) {
          const members = result.groups.flatMap((one) => one.members.filter((member) => member.clipId === clip.id));
          expect(members.length > 0).toBe(!ungrouped.has(clip.id));
          expect(members.every((member) => member.isShared === members.length > 1)).toBe(true);
        }
      }),
    );
  });

  it('keeps every range within its clip and its group, whatever it is given', () => {
    fc.assert(
      fc.property(wildShoot, (clips) => {
        const result = group(clips);
        GroupingResult.parse(result);
        const byId = new Map(clips.map((clip) => [clip.id, clip]));
        for (const one of result.groups) {
          const groupSeconds = (one.lengthInFrames * one.rate.denominator) / one.rate.numerator;
          for (const member of one.members) {
            const facts = byId.get(member.clipId)?.facts;
            const length = member.range.unit === 'frames' ? facts?.picture?.frameCount : facts?.sound[0]?.sampleCount;
            expect(member.range.from + member.range.length).toBeLessThanOrEqual(length ?? 0);
            const end =
              member.offset.numerator / member.offset.denominator +
              (member.range.length * member.range.rate.denominator) / member.range.rate.numerator;
            expect(end).toBeLessThanOrEqual(groupSeconds + 1e-6);
          }
        }
      }),
    );
  });

  it('keeps the identity of the groups when a recorder arrives later', () => {
    fc.assert(
      fc.property(fc.array(day, { minLength: 1, maxLength: 2 }), fc.constantFrom(...CAMERAS), (days, late) => {
        const all = days.flatMap((one, at) => clipsOf(one, { rate: RATES['23.976'], day: at }));
        const before = group(all.filter((clip) => clip.recorder !== late));
        const after = groupBySync(all, POLICY, { ...CONTEXT, previous: before.groups });
        expect(after.groups.map((one) => one.id)).toEqual(before.groups.map((one) => one.id));
      }),
    );
  });

  it('gives every group and every matter an identity of its own', () => {
    fc.assert(
      fc.property(wildShoot, fc.nat({ max: 60 }), (clips, arrived) => {
        const before = group(clips.slice(0, arrived));
        const after = groupBySync(clips, POLICY, { ...CONTEXT, previous: before.groups });
        expect(new Set(after.groups.map((one) => one.id)).size).toBe(after.groups.length);
        const again = groupBySync(clips, POLICY, { ...CONTEXT, previous: after.groups });
        expect(again).toEqual(after);
      }),
    );
  });
});
