import { FolderName, Instant } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';

/** Seals a roll at one destination: the next generation of its hash-list history, written and synced. */
export const seal = defineStep({
  name: 'seal',
  scope: 'roll',
  after: ['checksum'],
  needs: ['manifests'],
  config: z.object({}),
  input: z.object({
    rollId: FolderName,
    visit: z.number().int(),
    destination: FolderName,
    attempt: z.number().int(),
  }),
  output: z.object({
    visit: z.number().int(),
    destination: z.string(),
    attempt: z.number().int(),
    generation: z.number().int().positive(),
    fileCount: z.number().int(),
    /** Since when everything there has been read back. */
    readBackAt: Instant,
  }),
  async run({ input, context }) {
    const sealed = await context.manifests.seal(input.rollId, input.destination, context.signal);
    return { visit: input.visit, destination: input.destination, attempt: input.attempt, ...sealed };
  },
});
