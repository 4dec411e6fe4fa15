import { FolderName, Instant } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';

/** Puts on record what a whole reading again of a roll at one destination found: the next generation of its hash-list history. */
export const attest = defineStep({
  name: 'attest',
  scope: 'roll',
  after: ['reread'],
  needs: ['manifests'],
  config: z.object({}),
  input: z.object({ rollId: FolderName, visit: z.number().int(), destination: FolderName, since: Instant }),
  output: z.object({
    visit: z.number().int(),
    destination: z.string(),
    since: Instant,
    generation: z.number().int().positive(),
    readBackAt: Instant,
  }),
  async run({ input, context }) {
    const { rollId, visit, destination, since } = input;
    const attested = await context.manifests.attest(rollId, destination, since);
    return { visit, destination, since, ...attested };
  },
});
