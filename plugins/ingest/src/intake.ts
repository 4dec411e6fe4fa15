import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';

/** Opens the roll of a volume that has settled, or goes on with the one it belongs to: who, where to, in which parcels. */
export const intake = defineStep({
  name: 'intake',
  scope: 'roll',
  after: [],
  needs: ['rolls'],
  config: z.object({}),
  input: z.object({ volumeKey: z.string(), fingerprint: z.string() }),
  output: z.object({ rollId: z.string().nullable() }),
  async run({ input, context }) {
    return { rollId: await context.rolls.takeIn(input.volumeKey, input.fingerprint) };
  },
});
