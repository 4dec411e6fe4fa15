import { Clearance, Failure, Finding, FolderName } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';

/** Answers whether the drive of a roll may be recorded over, from what lies on the media at this moment. */
export const clearance = defineStep({
  name: 'clearance',
  scope: 'roll',
  after: ['seal'],
  needs: ['manifests'],
  config: z.object({}),
  input: z.object({ rollId: FolderName, due: z.number().int() }),
  output: z.object({
    due: z.number().int(),
    clearance: Clearance,
    findings: z.array(Finding),
    bad: z.array(z.object({ parcel: z.number().int(), destination: z.string(), failure: Failure })),
  }),
  async run({ input, context }) {
    const judged = await context.manifests.judge(input.rollId, context.signal);
    return { due: input.due, clearance: judged.clearance, findings: [...judged.findings], bad: [...judged.bad] };
  },
});
