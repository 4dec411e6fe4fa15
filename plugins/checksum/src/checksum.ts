import { Failure, FolderName, rollFolder } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';

/** Reads one parcel's copies at one destination back from the medium, and compares them with what the source gave. */
export const checksum = defineStep({
  name: 'checksum',
  scope: 'roll',
  after: ['ingest'],
  needs: ['footage', 'rolls'],
  config: z.object({}),
  input: z.object({
    rollId: FolderName,
    visit: z.number().int(),
    parcel: z.number().int(),
    destination: FolderName,
    attempt: z.number().int(),
  }),
  output: z.object({
    visit: z.number().int(),
    parcel: z.number().int(),
    destination: z.string(),
    /** The first failure among the parcel's files, or null. */
    failure: Failure.nullable(),
    failedPaths: z.array(z.object({ path: z.string(), failure: Failure })),
  }),
  async run({ input, context }) {
    const roll = await context.rolls.roll(input.rollId);
    const files = await context.rolls.parcelFiles(input.rollId, input.visit, input.parcel);
    const [destination] = await context.rolls.destinations([input.destination]);
    const totalBytes = files.reduce((sum, file) => sum + file.sizeInBytes, 0);
    let movedBytes = 0;
    const outcomes =
      destination === undefined
        ? []
        : await context.footage.readBack(
            { roll: { id: roll.id, folder: rollFolder(roll) }, paths: files.map((file) => file.path), destination },
            {
              signal: context.signal,
              onBytes: (bytes) => {
                movedBytes += bytes;
                context.progress({ fraction: totalBytes === 0 ? 1 : movedBytes / totalBytes, bytes: movedBytes });
              },
            },
          );
    await context.rolls.noteReadBack(input.rollId, input.destination, outcomes);
    const failedPaths = outcomes.flatMap((outcome) =>
      outcome.state === 'failed' ? [{ path: outcome.path, failure: outcome.failure }] : [],
    );
    // What has no outcome was not proven: silence is a failure.
    const silent = files.length - outcomes.length;
    return {
      visit: input.visit,
      parcel: input.parcel,
      destination: input.destination,
      failure: failedPaths[0]?.failure ?? (silent > 0 ? unproven(silent, input) : null),
      failedPaths,
    };
  },
});

function unproven(
  count: number,
  { rollId, destination }: { readonly rollId: string; readonly destination: string },
): Failure {
  return {
    code: 'NOT_READ_BACK',
    sentence: `Not all files of roll ${rollId} at ${destination} were read back (left out: ${count}), so it is not proven there. Retry the roll.`,
    retry: 'later',
  };
}
