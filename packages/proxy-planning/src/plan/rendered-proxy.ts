import { z } from 'zod';
import { BasedEstimate } from '../estimates/estimate.ts';
import { MeasuredProxy } from '../estimates/measured-proxy.ts';
import { ProxyTarget } from './proxy-plan.ts';

/** What came of rendering a planned proxy, with what the plan had said of it before: the two are compared, and later plans learn from it. */
export const RenderedProxy = z.object({
  /** The name of the proxy among the files of its run; null when it did not cut back to its original and was not kept. */
  file: z.string().nullable(),
  /** What encoded it, in ffmpeg's words. */
  encoder: z.string(),
  target: ProxyTarget,
  predicted: z.object({ bytes: BasedEstimate, seconds: BasedEstimate }),
  measured: MeasuredProxy,
});
export type RenderedProxy = z.output<typeof RenderedProxy>;
