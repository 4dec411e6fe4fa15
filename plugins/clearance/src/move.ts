import { FolderName } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';

/** Moves an unsealed roll's folder to another shoot, at every destination that takes it. */
export const move = defineStep({
  name: 'move',
  scope: 'roll',
  after: ['intake'],
  needs: ['manifests'],
  config: z.object({}),
  input: z.object({ rollId: FolderName, toShoot: FolderName }),
  output: z.object({ shootId: FolderName }),
  async run({ input, context }) {
    await context.manifests.move(input.rollId, input.toShoot);
    return { shootId: input.toShoot };
  },
});
