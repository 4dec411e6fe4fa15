import { Failure, FolderName, HashAlgorithm, QuaysideError, rollFolder } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';
import { namesTaken } from './names-taken.ts';
import { tellProgress } from './tell-progress.ts';

/** Copies one parcel of a roll from its volume to every destination that still wants it, in one read of the source. */
export const ingest = defineStep({
  name: 'ingest',
  scope: 'roll',
  after: ['intake'],
  needs: ['footage', 'rolls'],
  config: z.object({ hashes: z.array(HashAlgorithm).min(1), reads: z.enum(['once', 'twice']).default('once') }),
  input: z.object({
    rollId: FolderName,
    visit: z.number().int(),
    parcel: z.number().int(),
    destinations: z.array(FolderName).min(1),
    attempt: z.number().int(),
  }),
  output: z.object({
    visit: z.number().int(),
    parcel: z.number().int(),
    /** Per destination: the first failure among the parcel's files, or null. */
    outcome: z.record(z.string(), Failure.nullable()),
    failedPaths: z.array(z.object({ destination: z.string(), path: z.string(), failure: Failure })),
    /** Files that lie under another name because theirs was taken by other content, or cannot be held. */
    renamed: z.array(z.object({ destination: z.string(), path: z.string(), storedPath: z.string() })),
  }),
  async run({ config, input, context }) {
    const roll = await context.rolls.roll(input.rollId);
    if (roll.mount === null) throw new QuaysideError(driveAway(roll.id));
    const files = await context.rolls.parcelFiles(input.rollId, input.visit, input.parcel);
    const destinations = await context.rolls.destinations(input.destinations);
    const outcomes = await context.footage.copy(
      {
        mount: roll.mount,
        roll: { id: roll.id, folder: rollFolder(roll) },
        files,
        destinations,
        algorithms: config.hashes,
        reads: config.reads,
      },
      { signal: context.signal, onBytes: tellProgress(context, files, destinations.length) },
    );
    await context.rolls.noteCopies(roll.id, outcomes);
    const failed = outcomes.filter((outcome) => outcome.state === 'failed');
    return {
      visit: input.visit,
      parcel: input.parcel,
      outcome: Object.fromEntries(
        input.destinations.map((name) => [
          name,
          failed.find((outcome) => outcome.destination === name)?.failure ?? null,
        ]),
      ),
      failedPaths: failed.map(({ destination, path, failure }) => ({ destination, path, failure })),
      renamed: namesTaken(outcomes),
    };
  },
});

function driveAway(rollId: string): Failure {
  return {
    code: 'SOURCE_GONE',
    sentence: `The drive of roll ${rollId} is not there. Connect it again; the work goes on by itself.`,
    retry: 'source',
  };
}
