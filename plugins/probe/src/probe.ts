import { Failure, failureOf, type FileEntry, type FileFacts, FolderName } from '@quayside/shoot';
import { type Capabilities, defineStep, type StepContext, type StopSignal } from '@quayside/step-sdk/built-in';
import { z } from 'zod';
import { mayBeMedia } from './media-names.ts';

/**
 * Reads the facts of a roll's clips from the drive, the newest first, for as long as it is given. The same file has the same
 * facts, so what is known is not read again. A file that is no media, or is damaged, is an outcome and no failure.
 */
export const probe = defineStep({
  name: 'probe',
  scope: 'roll',
  after: ['intake'],
  needs: ['facts', 'rolls'],
  config: z.object({}),
  input: z.object({
    rollId: FolderName,
    visit: z.number().int().positive(),
    /** How long it may take, in milliseconds, before it leaves the rest for another run; null for no limit. */
    withinMs: z.number().positive().nullable(),
  }),
  output: z.object({
    visit: z.number().int().positive(),
    isComplete: z.boolean(),
    readCount: z.number().int().nonnegative(),
    unread: z.array(z.object({ path: z.string(), failure: Failure })),
  }),
  async run({ input: { rollId, visit, withinMs }, context }) {
    const waiting = await filesToRead(context, { rollId, visit });
    // Counted from the first answer on: how long a parser takes to start says nothing of the drive.
    let endAt = Infinity;
    const unread: { path: string; failure: Failure }[] = [];
    let readCount = 0;
    let isOver = false;
    await atOnce(READERS, async () => {
      for (;;) {
        const file = waiting.shift();
        if (file === undefined) return;
        if (Date.now() >= endAt) {
          isOver = true;
          return;
        }
        context.signal.throwIfAborted();
        try {
          const facts = await context.facts.read(rollId, file, context.signal);
          await context.facts.keep(rollId, [{ ...file, facts }]);
          readCount += 1;
          if (readCount === 1 && withinMs !== null) endAt = Date.now() + withinMs;
        } catch (error) {
          unread.push({ path: file.path, failure: failureOfFile(error, context.signal) });
        }
      }
    });
    return { visit, isComplete: !isOver, readCount, unread };
  },
});

/** As many as the worker has parsers: more would only wait. */
const READERS = 2;

/** One file that cannot be read holds up no other; a drive that is away, or a run that is to stop, ends it all. */
function failureOfFile(error: unknown, signal: StopSignal): Failure {
  signal.throwIfAborted();
  const failure = failureOf(error);
  if (failure.retry === 'source') throw error;
  return failure;
}

type Roll = { readonly rollId: string; readonly visit: number };

async function filesToRead(
  { rolls, facts }: StepContext & Pick<Capabilities, 'rolls' | 'facts'>,
  { rollId, visit }: Roll,
): Promise<FileEntry[]> {
  const { parcels } = await rolls.roll(rollId);
  const files = await Promise.all(parcels.map(({ index }) => rolls.parcelFiles(rollId, visit, index)));
  const known = new Set((await facts.known(rollId)).map(identityOf));
  return files
    .flat()
    .filter((file) => mayBeMedia(file) && !known.has(identityOf(file)))
    .toSorted((one, other) => other.modifiedMs - one.modifiedMs);
}

function identityOf({ path, sizeInBytes, modifiedMs }: FileEntry | FileFacts): string {
  return JSON.stringify([path, sizeInBytes, modifiedMs]);
}

async function atOnce(count: number, work: () => Promise<void>): Promise<void> {
  await Promise.all(Array.from({ length: count }, work));
}
