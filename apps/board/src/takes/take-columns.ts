import type { Group } from '../service/look-at-shoot.ts';
import { showTime } from './time-in-take.ts';
import { listWords } from '../words/list-words.ts';

/** Where one recorder ran within a take, as shares of the take's length, and the same in words. */
export interface TakeBar {
  readonly from: number;
  readonly to: number;
  readonly words: string;
  /** It must be checked by eye and ear before it is cut with. */
  readonly isWeak: boolean;
}

/** One take: what ran together, as a column of the sync map. */
export interface TakeColumn {
  readonly id: string;
  readonly number: number;
  readonly timecode: string;
  readonly date: string;
  readonly length: string;
  readonly seconds: number;
  /** Where it can be edited now, or how far it is from that. */
  readonly editable: string;
  readonly isEditable: boolean;
  /** By recorder; a recorder that is not in it has none. */
  readonly bars: ReadonlyMap<string, readonly TakeBar[]>;
}

export interface SyncMap {
  readonly recorders: readonly string[];
  readonly takes: readonly TakeColumn[];
}

/** The sync map of a shoot: its takes in the order in which they were recorded, numbered from 1, over all its recorders. */
export function syncMap(groups: readonly Group[], recorders: readonly string[]): SyncMap {
  const known = new Set([...recorders, ...groups.flatMap(({ members }) => members.map(({ recorder }) => recorder))]);
  return { recorders: [...known].toSorted(), takes: groups.map((group, at) => columnOf(group, at + 1)) };
}

function columnOf(group: Group, number: number): TakeColumn {
  const { rate, lengthInFrames, start, day, members, editableAt, unproven } = group;
  const seconds = (lengthInFrames * rate.denominator) / rate.numerator;
  const byRecorder = Map.groupBy(members, ({ recorder }) => recorder);
  return {
    id: group.id,
    number,
    timecode: start.timecode,
    date: day.date,
    length: showTime(seconds),
    seconds,
    editable: editableAt.length > 0 ? `Edit from ${listWords(editableAt)}` : tellUnproven(unproven),
    isEditable: editableAt.length > 0,
    bars: new Map([...byRecorder].map(([recorder, own]) => [recorder, own.map((member) => barOf(member, seconds))])),
  };
}

type Member = Group['members'][number];

function barOf({ offset, range, confidence }: Member, takeSeconds: number): TakeBar {
  const begin = offset.numerator / offset.denominator;
  const long = (range.length * range.rate.denominator) / range.rate.numerator;
  const share = (seconds: number): number => (takeSeconds > 0 ? Math.min(Math.max(seconds / takeSeconds, 0), 1) : 0);
  const late = begin > 0 ? `, ${showTime(begin)} late` : '';
  return {
    from: share(begin),
    to: share(begin + long),
    words: `ran ${showTime(long)}${late}${confidence === 'weak' ? ', place unsure' : ''}`,
    isWeak: confidence === 'weak',
  };
}

function tellUnproven(unproven: Group['unproven']): string {
  const counts = Object.values(unproven);
  if (counts.length === 0) return 'Not proven yet';
  const fewest = Math.min(...counts);
  return `${fewest} ${fewest === 1 ? 'clip' : 'clips'} still to prove`;
}
