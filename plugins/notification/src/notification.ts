import { FolderName, Severity } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';

/** Tells people one matter of a roll: by the log, and by the channels of the configuration. It is told when it is on record; sending goes on by itself. */
export const notification = defineStep({
  name: 'notification',
  scope: 'roll',
  after: ['clearance'],
  needs: ['messages'],
  config: z.object({}),
  input: z.object({ rollId: FolderName, matter: z.string(), severity: Severity, sentence: z.string() }),
  output: z.object({ matter: z.string() }),
  async run({ input, context }) {
    const { rollId: subject, matter, severity, sentence } = input;
    await context.messages.tell({ severity, subject, matter, sentence });
    return { matter: input.matter };
  },
});
