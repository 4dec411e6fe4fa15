import { FolderName, MediaFacts } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk';
import { z } from 'zod';

/**
 * Reads the facts of one clip. The same file gives the same facts, so doing it again changes nothing. A file that is no media,
 * or is damaged, is an outcome and no failure.
 */
export const probe = defineStep({
  name: 'probe',
  scope: 'clip',
  after: ['intake'],
  needs: ['facts'],
  config: z.object({}),
  input: z.object({
    rollId: FolderName,
    /** Of the file in its roll, as the listing gives it. */
    path: z.string().min(1),
  }),
  output: z.object({ rollId: FolderName, path: z.string(), facts: MediaFacts }),
  async run({ input: { rollId, path }, context }) {
    const facts = await context.facts.read(rollId, path, context.signal);
    context.progress({ fraction: 1 });
    return { rollId, path, facts };
  },
});
