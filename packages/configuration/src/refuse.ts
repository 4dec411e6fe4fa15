import type { z } from 'zod';

/** Says what is wrong; what a person should write instead travels beside it, in `params.remedy`. */
export function refuse(context: z.RefinementCtx, message: string, remedy: string): void {
  context.addIssue({ code: 'custom', message, params: { remedy } });
}
