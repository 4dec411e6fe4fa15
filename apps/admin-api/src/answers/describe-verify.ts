import {
  believeTimes,
  isBeingTakenIn,
  isDoneSince,
  isWholeAt,
  keptCopies,
  type KeptCopy,
  type RereadWish,
  wishedCopies,
} from '@quayside/pipeline';
import type { Instant, Roll } from '@quayside/shoot';
import type { VerifyAnswer, VerifyProgress } from './verify-answer.ts';

/** What a wish that is uttered now is about, in the words of the API, with what there is to read of it. */
export function describeVerify(rolls: readonly Roll[], wish: RereadWish): VerifyAnswer {
  const copies = wishedCopies(believeTimes(keptCopies(rolls), wish.since), wish).filter(
    (copy) => !isDoneSince(copy, wish.since),
  );
  const waitsForIntake = rolls.some(isBeingTakenIn);
  return {
    ...wish,
    waitsForIntake,
    rolls: new Set(copies.map(({ rollId }) => rollId)).size,
    files: sumOf(copies, ({ fileCount }) => fileCount),
    bytes: sumOf(copies, ({ sizeInBytes }) => sizeInBytes),
    sentence: sentenceFor(copies.length, waitsForIntake),
  };
}

function sentenceFor(count: number, waitsForIntake: boolean): string {
  if (count === 0) return 'Nothing of it is sealed yet, so there is nothing to read again.';
  return waitsForIntake
    ? 'A drive is being taken in; the reading begins when that is done.'
    : 'Everything of it is read again now, one roll at one destination at a time.';
}

/** How far the reading is that was asked for at that moment, from the rolls as they are. */
export function describeVerifyProgress(rolls: readonly Roll[], wish: RereadWish, now: Instant): VerifyProgress {
  const known = new Map(rolls.map((roll) => [roll.id, roll]));
  const concerned = rolls.flatMap((roll) =>
    Object.keys(roll.destinations).map((destination) => ({ roll, destination })),
  );
  const copies = wishedCopies(believeTimes(keptCopies(rolls), now), wish);
  const ended = concerned.flatMap(({ roll, destination }) => {
    const reread = roll.destinations[destination]?.reread ?? null;
    const isMeant = (wish.kind === 'shoot' ? roll.shootId : destination) === wish.id;
    const isSince = reread !== null && reread.since >= wish.since && reread.since <= now;
    return isMeant && isSince ? [{ roll, destination, reread }] : [];
  });
  const bad = ended.filter(({ reread }) => reread.badFiles > 0);
  const done = copies.filter((copy) => isDoneSince(copy, wish.since));
  const isMending = bad.some(({ roll }) => isBeingTakenIn(roll));
  return {
    ...wish,
    waitsForIntake: rolls.some((roll) => isBeingTakenIn(roll) && !bad.some((one) => one.roll === roll)),
    isDone: done.length === copies.length && !isMending,
    copies: copies.length,
    copiesDone: done.length,
    bytes: sumOf(copies, ({ sizeInBytes }) => sizeInBytes),
    bytesDone: sumOf(copies, (copy) => bytesRead(copy, known.get(copy.rollId), wish.since)),
    bad: bad.map(({ roll, destination, reread: { badFiles } }) => ({
      rollId: roll.id,
      destination,
      badFiles,
      isMended: isWholeAt(roll, destination),
    })),
    unread: ended.flatMap(({ roll, destination, reread: { failure } }) =>
      failure === null ? [] : [{ rollId: roll.id, destination, failure }],
    ),
  };
}

function bytesRead(copy: KeptCopy, roll: Roll | undefined, since: string): number {
  if (isDoneSince(copy, since)) return copy.sizeInBytes;
  const reread = roll?.destinations[copy.destination]?.reread ?? null;
  if (roll === undefined || reread === null || reread.since < since) return 0;
  return sumOf(roll.parcels.slice(0, reread.next), ({ sizeInBytes }) => sizeInBytes);
}

function sumOf<Item>(items: readonly Item[], valueOf: (item: Item) => number): number {
  return items.reduce((sum, item) => sum + valueOf(item), 0);
}
