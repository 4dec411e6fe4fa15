import type { Instant, Roll } from '@quayside/shoot';
import { takingDestinations } from '../roll-state/activity.ts';
import { canBeReread } from '../roll-state/reread.ts';

/** All of a roll at one destination, as something that is kept true. */
export interface KeptCopy {
  readonly rollId: string;
  readonly shootId: string;
  readonly destination: string;
  readonly fileCount: number;
  readonly sizeInBytes: number;
  /** Since when everything there has been read back; the roll's beginning where nobody knows. */
  readonly readBackAt: Instant;
  /** When it was last read again, or begun to be; null when never. */
  readonly reread: { readonly since: Instant; readonly isUnderWay: boolean; readonly hasFailed: boolean } | null;
}

/** What there is to be kept true of these rolls: every destination that has all of one. */
export function keptCopies(rolls: readonly Roll[]): readonly KeptCopy[] {
  return rolls.flatMap((roll) =>
    takingDestinations(roll)
      .filter((name) => canBeReread(roll, name) || roll.destinations[name]?.reread?.endedAt === null)
      .map((destination): KeptCopy => {
        const { readBackAt = null, reread = null } = roll.destinations[destination] ?? {};
        return {
          rollId: roll.id,
          shootId: roll.shootId,
          destination,
          fileCount: roll.fileCount,
          sizeInBytes: roll.sizeInBytes,
          readBackAt: readBackAt ?? roll.openedAt,
          reread: reread && {
            since: reread.since,
            isUnderWay: reread.endedAt === null,
            hasFailed: reread.failure !== null,
          },
        };
      }),
  );
}
