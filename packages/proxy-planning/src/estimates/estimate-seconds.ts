import type { ProxyCodec } from '../policy/proxy-policy.ts';
import type { BasedEstimate, EstimateBasis } from './estimate.ts';
import { type Experience, type Measured, pairKey } from './measured-proxy.ts';

/** Pixels of originals in a second, before anything was measured: a guess for two cores, and said to be one. */
const UNMEASURED_PIXELS_PER_SECOND = 60_000_000;
/** And to start the encoder, and to count what came out. */
const UNMEASURED_START_SECONDS = 0.5;

export interface Rendering {
  readonly from: string;
  readonly to: ProxyCodec;
  /** Of one picture of the original. */
  readonly pixels: number;
  readonly frames: number;
}

/**
 * How long making a proxy takes. From what was measured on this machine for the same codecs and size when there is any; else
 * for the nearest other size, in proportion to pixels; else for another codec; else from a guess. The range widens in that
 * order, from a quarter each way to five times. It is the time of the work alone, without waiting for its turn.
 */
export function estimateSeconds({ from, to, pixels, frames }: Rendering, measured: Measured): BasedEstimate {
  const work = pixels * frames;
  const sizes = measured.byPair.get(pairKey(from, to));
  const same = sizes?.get(pixels);
  if (same !== undefined) return learned(work, same.seconds, { basis: 'measured here', factor: 1.25 });
  const near = sizes?.get(nearestOf([...sizes.keys()], pixels));
  if (near !== undefined) return learned(work, near.seconds, { basis: 'measured here at another size', factor: 1.7 });
  const other = measured.byTarget.get(to);
  if (other !== undefined) {
    return learned(work, other.seconds, { basis: 'measured here with another codec', factor: 3 });
  }
  const seconds = UNMEASURED_START_SECONDS + work / UNMEASURED_PIXELS_PER_SECOND;
  return { expected: seconds, low: seconds / 5, high: seconds * 5, basis: 'never measured here' };
}

function learned(
  work: number,
  { mean, least, most }: Experience,
  { basis, factor }: { readonly basis: EstimateBasis; readonly factor: number },
): BasedEstimate {
  const expected = mean * work;
  return {
    expected,
    low: Math.min(expected / factor, least * work),
    high: Math.max(expected * factor, most * work),
    basis,
  };
}

function nearestOf(known: readonly number[], pixels: number): number {
  const distance = (one: number): number => Math.abs(Math.log(one / pixels));
  return known.reduce((best, one) => (distance(one) < distance(best) ? one : best), known[0] ?? pixels);
}
