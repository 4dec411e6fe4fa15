import { z } from 'zod';
import { MeasuredProxy } from './measured-proxy.ts';

/** The file in the data folder, and so of one machine, that keeps what making proxies took there. */
export const MEASURED_PROXIES = 'measured-proxies.json';

/** Its shape; the newest last. */
export const MeasuredProxies = z.object({ format: z.literal(1), proxies: z.array(MeasuredProxy) });
export type MeasuredProxies = z.output<typeof MeasuredProxies>;

/** Of one kind of work the newest count: a machine that was changed, or another encoder, is learned within as many. */
const KEPT_OF_A_KIND = 12;
/** And of all together. */
const KEPT = 2000;

/** Adds a measurement, and lets go of the oldest of its kind: of the same codecs and the same size of original. */
export function keepMeasured(all: readonly MeasuredProxy[], one: MeasuredProxy): readonly MeasuredProxy[] {
  const isAlike = ({ from, to, pixels }: MeasuredProxy): boolean =>
    from === one.from && to === one.to && pixels === one.pixels;
  const alike = all.filter(isAlike);
  const dropped = new Set(alike.slice(0, Math.max(0, alike.length + 1 - KEPT_OF_A_KIND)));
  return [...all.filter((kept) => !dropped.has(kept)), one].slice(-KEPT);
}
