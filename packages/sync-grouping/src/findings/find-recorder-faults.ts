import { printDecimal } from '@quayside/timecode';
import type { PlacedClip } from '../clock/placed-clip.ts';
import type { StrayClock } from '../clock/stray-clock.ts';
import type { GroupingContext } from '../grouping-result.ts';
import { compareText, listBy } from '../in-order.ts';
import type { TimedClip } from '../reading/timed-clip.ts';
import { SPLIT_TICKS, comparePlaced } from '../takes/join-spans.ts';
import { secondsOfTicks } from '../ticks.ts';
import type { FindingDraft } from './finding-draft.ts';

const CODES = {
  'from-zero': 'TIMECODE_FROM_ZERO',
  'while-recording': 'TIMECODE_ONLY_WHILE_RECORDING',
  offset: 'TIMECODE_OFFSET',
} as const;
const DAY_MS = 86_400_000;

/** Recorders that did not follow the clock. One that only ran while no other did may be in order and gives no finding. */
export function describeStrays(strays: readonly StrayClock[]): readonly FindingDraft[] {
  const telling = strays.filter(({ kind, settledBy }) => kind !== 'offset' || settledBy !== null);
  return [...listBy(telling, ({ recorder, kind }) => `${recorder} ${kind}`).values()].flatMap((alike) => {
    const [first] = alike;
    if (first === undefined) return [];
    const clipIds = alike.flatMap((stray) => stray.clipIds);
    return {
      code: CODES[first.kind],
      recorder: first.recorder,
      groupId: null,
      clipIds,
      why: explainStray(first, clipIds.length),
    };
  });
}

function explainStray({ recorder, kind, settledBy, shiftTicks }: StrayClock, clipCount: number): string {
  const fault = {
    'from-zero': `The timecode of ${recorder} begins at zero, the others' does not`,
    'while-recording': `The timecode of ${recorder} goes on from clip to clip without the pauses in between`,
    offset: `The timecode of ${recorder} meets the others' only when it is moved`,
  }[kind];
  const moved =
    shiftTicks === null
      ? ''
      : `, by ${shiftTicks < 0 ? '-' : '+'}${printDecimal(secondsOfTicks(Math.abs(Math.round(shiftTicks))), 2)} s`;
  const [clips, were] = clipCount === 1 ? ['its clip', 'was'] : [`its ${clipCount} clips`, 'were'];
  const placed = {
    takes: `${clips} ${were} moved to begin and end with the takes${moved}`,
    'file-times': `${clips} ${were} placed by the dates of the files${moved}`,
    none: `${clips} could not be placed by the dates of the files either`,
  }[settledBy ?? 'none'];
  return `${fault}; ${placed}.`;
}

/** Sound whose samples since midnight were counted at another rate: one finding for a recorder, or for a clip that stands out. */
export function findOtherRates(placed: readonly PlacedClip[]): readonly FindingDraft[] {
  const sound = placed.filter(({ timed }) => timed.unit === 'samples');
  return [...listBy(sound, ({ timed }) => timed.clip.recorder)].flatMap(([recorder, own]) => {
    const other = own.filter((clip) => clip.placedBy === 'other-rate');
    const [first] = other;
    if (first === undefined) return [];
    const about = { code: 'SOUND_COUNTED_AT_OTHER_RATE', recorder, groupId: null } as const;
    const clipIds = other.map(({ timed }) => timed.clip.id);
    if (other.length === own.length && own.length > 1)
      return [{ ...about, clipIds, why: `All ${own.length} files of ${recorder}: ${first.restsOn}` }];
    return other.map(({ timed: { clip }, restsOn }) => ({
      ...about,
      clipIds: [clip.id],
      clipId: clip.id,
      why: `${clip.path} (${recorder}): ${restsOn}`,
    }));
  });
}

/** Clips of one recorder that carry the same timecode; a weak place says nothing of timecode. */
export function findRepeatedTimecode(placed: readonly PlacedClip[]): readonly FindingDraft[] {
  const told = placed.filter((clip) => clip.confidence !== 'weak');
  return [...listBy(told, ({ timed }) => timed.clip.recorder)].flatMap(([recorder, own]) => {
    let furthest: PlacedClip | null = null;
    return own.toSorted(comparePlaced).flatMap((clip) => {
      const before: PlacedClip | null = furthest;
      const isSameDay = before !== null && before.chain === clip.chain;
      if (!isSameDay || clip.end > before.end) furthest = clip;
      if (before === null || !isSameDay || before.end - clip.start <= SPLIT_TICKS) return [];
      const [first, second] = [before.timed.clip, clip.timed.clip];
      const why = `${second.path} (${recorder}) carries timecode that ${first.path} carries as well.`;
      return [
        {
          code: 'TIMECODE_REPEATED',
          recorder,
          groupId: null,
          clipIds: [first.id, second.id],
          clipId: second.id,
          why,
        } as const,
      ];
    });
  });
}

/**
 * Recorders whose clips are dated more than a day from every date of the shoot: the days that the context names, else the
 * dates of all other recorders.
 */
export function findFarDates(clips: readonly TimedClip[], { shootDays }: GroupingContext): readonly FindingDraft[] {
  const dated = listBy(clips, (clip) => clip.recordedAt.date);
  const recordersOn = new Map([...dated].map(([date, own]) => [date, new Set(own.map((clip) => clip.clip.recorder))]));
  return [...dated].flatMap(([date, ofDate]) =>
    [...listBy(ofDate, (clip) => clip.clip.recorder)].flatMap(([recorder, own]) => {
      const others = [...recordersOn]
        .filter(([, there]) => [...there].some((one) => one !== recorder))
        .map(([day]) => day);
      const expected = shootDays ?? others;
      if (expected.length === 0 || expected.some((day) => daysBetween(day, date) <= 1)) return [];
      const clipIds = own.map((clip) => clip.clip.id);
      const when = expected.toSorted(compareText).join(', ');
      const why = `${own.length === 1 ? 'One clip' : `${own.length} clips`} of ${recorder} ${own.length === 1 ? 'is' : 'are'} dated ${date}; the shoot's dates are ${when}.`;
      return [{ code: 'DATE_FAR_FROM_SHOOT', recorder, groupId: null, clipIds, detail: date, why } as const];
    }),
  );
}

function daysBetween(left: string, right: string): number {
  return Math.abs(Date.parse(left) - Date.parse(right)) / DAY_MS;
}
