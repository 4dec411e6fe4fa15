import { FolderName, Severity } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';

/** Tells people one matter of a roll. For now: the service's log and the event stream. */
export const notification = defineStep({
  name: 'notification',
  scope: 'roll',
  after: ['clearance'],
  needs: ['messages'],
  config: z.object({}),
  input: z.object({ rollId: FolderName, matter: z.string(), severity: Severity, sentence: z.string() }),
  output: z.object({ matter: z.string() }),
  async run({ input, context }) {
    await context.messages.tell({ severity: input.severity, subject: input.rollId, sentence: input.sentence });
    return { matter: input.matter };
  },
});
