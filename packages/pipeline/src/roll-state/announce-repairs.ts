import type { Failure, Instant, ParcelCopy, PipelineEvent, Roll } from '@quayside/shoot';
import { takingDestinations } from './activity.ts';

/**
 * Says once for a roll and a destination that copies there failed their verification, and once that all of those are made
 * anew and proven: never once for each file.
 */
export function announceRepairs(before: Roll | null, after: Roll, now: Instant): readonly PipelineEvent[] {
  if (before === null || before.visit !== after.visit) return [];
  return takingDestinations(after).flatMap((destination): readonly PipelineEvent[] => {
    const was = badCopies(before, destination);
    const bad = badCopies(after, destination);
    const about = { destination, shoot: after.shootId, recorder: after.recorder };
    if (was.length === 0 && bad.length > 0) {
      const failure = bad.find(({ state }) => state === 'failed')?.failure ?? null;
      const data = { ...about, severity: failure === null ? 'warning' : 'critical' };
      return [{ type: 'copy.bad', at: now, subject: after.id, sentence: wordBad(after, destination, failure), data }];
    }
    // A retry that somebody asks for begins them anew: they are not bad any more, and not proven yet.
    const isMended =
      was.length > 0 && was.every(({ index }) => copyAt(after, index, destination)?.state === 'verified');
    if (!isMended) return [];
    const sentence = `The copies of roll ${after.id} at ${destination} that failed their verification are made anew and proven.`;
    return [{ type: 'copy.repaired', at: now, subject: after.id, sentence, data: { ...about, severity: 'info' } }];
  });
}

/** Copies that failed their verification and are not proven since, with the parcels that they are of. */
function badCopies(roll: Roll, destination: string): readonly (ParcelCopy & { readonly index: number })[] {
  return roll.parcels.flatMap(({ index }) => {
    const copy = copyAt(roll, index, destination);
    if (copy === undefined || copy.state === 'verified') return [];
    const isBad = copy.repairs > 0 || (copy.state === 'failed' && copy.failure?.retry === 'copy');
    return isBad ? [{ ...copy, index }] : [];
  });
}

function copyAt(roll: Roll, index: number, destination: string): ParcelCopy | undefined {
  return roll.parcels[index]?.copies[destination];
}

function wordBad(roll: Roll, destination: string, failure: Failure | null): string {
  const what = `A copy of roll ${roll.id} at ${destination} failed its verification`;
  if (failure !== null) return `${what}, and the roll holds: ${failure.sentence}`;
  return `${what}; it is made anew by itself. Keep the drive until its verdict is clear.`;
}
