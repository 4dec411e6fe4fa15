import { Failure, FolderName, HashAlgorithm, rollFolder } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';
import { namesTaken } from './names-taken.ts';
import { tellProgress } from './tell-progress.ts';

/** Copies one parcel of a roll whose drive is away from its proven copy at one destination to others that lack it. */
export const recopy = defineStep({
  name: 'recopy',
  scope: 'roll',
  after: ['checksum'],
  needs: ['footage', 'rolls', 'manifests'],
  config: z.object({ hashes: z.array(HashAlgorithm).min(1) }),
  input: z.object({
    rollId: FolderName,
    visit: z.number().int(),
    parcel: z.number().int(),
    from: FolderName,
    destinations: z.array(FolderName).min(1),
    attempt: z.number().int(),
  }),
  output: z.object({
    visit: z.number().int(),
    parcel: z.number().int(),
    from: z.string(),
    /** Why the copy that was to be copied on is bad; null when it is what it was proven to be. */
    fromFailure: Failure.nullable(),
    /** Per destination: the first failure of its own among the parcel's files, or null. */
    outcome: z.record(z.string(), Failure.nullable()),
    failedPaths: z.array(z.object({ destination: z.string(), path: z.string(), failure: Failure })),
    renamed: z.array(z.object({ destination: z.string(), path: z.string(), storedPath: z.string() })),
  }),
  async run({ config, input, context }) {
    const roll = await context.rolls.roll(input.rollId);
    const files = await context.rolls.parcelFiles(input.rollId, input.visit, input.parcel);
    const [from] = await context.rolls.destinations([input.from]);
    const destinations = await context.rolls.destinations(input.destinations);
    const paths = files.map((file) => file.path);
    if (from !== undefined) await context.manifests.restoreLedger(roll.id, input.from, paths);
    const { copies, bad } =
      from === undefined
        ? { copies: [], bad: [] }
        : await context.footage.recopy(
            { roll: { id: roll.id, folder: rollFolder(roll) }, files, from, destinations, algorithms: config.hashes },
            { signal: context.signal, onBytes: tellProgress(context, files, destinations.length) },
          );
    await context.rolls.noteCopies(roll.id, copies);
    if (bad.length > 0) {
      const outcomes = bad.map(({ path, failure }) => ({ path, state: 'failed' as const, failure }));
      await context.rolls.noteReadBack(roll.id, input.from, outcomes);
    }
    const badPaths = new Set(bad.map(({ path }) => path));
    const failed = copies.filter((outcome) => outcome.state === 'failed');
    const own = failed.filter(({ path }) => !badPaths.has(path));
    return {
      visit: input.visit,
      parcel: input.parcel,
      from: input.from,
      fromFailure: bad[0]?.failure ?? null,
      outcome: Object.fromEntries(
        input.destinations.map((name) => [name, own.find(({ destination }) => destination === name)?.failure ?? null]),
      ),
      failedPaths: [
        ...bad.map((file) => ({ ...file, destination: input.from })),
        ...own.map(({ destination, path, failure }) => ({ destination, path, failure })),
      ],
      renamed: namesTaken(copies),
    };
  },
});
