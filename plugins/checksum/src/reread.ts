import { Failure, FolderName, Instant, QuaysideError, rollFolder } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';

/**
 * Reads one parcel's copies at one destination again, long after they were proven: media rot. What is bad is set aside and told;
 * what could not be looked at fails the run and says nothing about the copies.
 */
export const reread = defineStep({
  name: 'reread',
  scope: 'roll',
  after: ['seal'],
  needs: ['footage', 'rolls', 'manifests'],
  config: z.object({}),
  input: z.object({
    rollId: FolderName,
    visit: z.number().int(),
    parcel: z.number().int(),
    destination: FolderName,
    since: Instant,
  }),
  output: z.object({
    visit: z.number().int(),
    parcel: z.number().int(),
    destination: z.string(),
    since: Instant,
    badFiles: z.number().int(),
    /** The first failure among the parcel's files, or null. */
    failure: Failure.nullable(),
    failedPaths: z.array(z.object({ path: z.string(), failure: Failure })),
  }),
  async run({ input, context }) {
    const { rollId, visit, parcel, since } = input;
    const roll = await context.rolls.roll(rollId);
    const paths = (await context.rolls.parcelFiles(rollId, visit, parcel)).map((file) => file.path);
    const [destination] = await context.rolls.destinations([input.destination]);
    await context.manifests.restoreLedger(rollId, input.destination, paths);
    const outcomes =
      destination === undefined
        ? []
        : await context.footage.readBack(
            { roll: { id: roll.id, folder: rollFolder(roll) }, paths, destination, notSince: since },
            { signal: context.signal, onBytes: () => context.progress({ fraction: 0 }) },
          );
    const failed = outcomes.flatMap((outcome) =>
      outcome.state === 'failed' ? [{ path: outcome.path, failure: outcome.failure }] : [],
    );
    const unread = failed.find(({ failure }) => failure.retry !== 'copy')?.failure;
    if (unread !== undefined) throw new QuaysideError(unread);
    if (outcomes.length < paths.length) throw new QuaysideError(notRead(paths.length - outcomes.length, input));
    await context.rolls.noteReadBack(rollId, input.destination, outcomes);
    return {
      visit,
      parcel,
      since,
      destination: input.destination,
      badFiles: failed.length,
      failure: failed[0]?.failure ?? null,
      failedPaths: failed,
    };
  },
});

function notRead(
  count: number,
  { rollId, destination }: { readonly rollId: string; readonly destination: string },
): Failure {
  return {
    code: 'NOT_READ_BACK',
    sentence: `Not all files of roll ${rollId} at ${destination} were read again (left out: ${count}), so nothing new is known of it. It is read again later, by itself.`,
    retry: 'later',
  };
}
