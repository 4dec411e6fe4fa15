import type { ProxyCodec } from '../policy/proxy-policy.ts';
import type { BasedEstimate, EstimateBasis } from './estimate.ts';
import { type Measured, type MeasuredProxy, pairKey, sizeKey } from './measured-proxy.ts';

/** Pixels of originals in a second, before anything was measured: a guess for two cores, and said to be one. */
const UNMEASURED_PIXELS_PER_SECOND = 60_000_000;

export interface Rendering {
  readonly from: string;
  readonly to: ProxyCodec;
  /** Of one picture of the original. */
  readonly pixels: number;
  readonly frames: number;
}

/**
 * How long making a proxy takes. From what was measured on this machine for the same codecs and size when there is any; else
 * for another size, in proportion to pixels; else for another codec; else from a guess. The range widens in that order, from a
 * quarter each way to five times. It is the time of the work alone, without waiting for its turn.
 */
export function estimateSeconds(rendering: Rendering, measured: Measured): BasedEstimate {
  const pair = pairKey(rendering.from, rendering.to);
  const same = measured.bySize.get(sizeKey(pair, rendering.pixels));
  if (same !== undefined) return fromMeasured(rendering, same, { basis: 'measured here', factor: 1.25 });
  const scaled = measured.byPair.get(pair);
  if (scaled !== undefined) {
    const near = nearestInSize(scaled, rendering.pixels);
    return fromMeasured(rendering, near, { basis: 'measured here at another size', factor: 1.7 });
  }
  const other = measured.byTarget.get(rendering.to);
  if (other !== undefined) {
    return fromMeasured(rendering, other, { basis: 'measured here with another codec', factor: 3 });
  }
  const seconds = (rendering.pixels * rendering.frames) / UNMEASURED_PIXELS_PER_SECOND;
  return { expected: seconds, low: seconds / 5, high: seconds * 5, basis: 'never measured here' };
}

function fromMeasured(
  { pixels, frames }: Rendering,
  samples: readonly MeasuredProxy[],
  { basis, factor }: { readonly basis: EstimateBasis; readonly factor: number },
): BasedEstimate {
  const work = pixels * frames;
  const costs = samples.map((sample) => sample.seconds / (sample.pixels * sample.frames));
  const all = samples.reduce((sum, sample) => sum + sample.pixels * sample.frames, 0);
  const spent = samples.reduce((sum, sample) => sum + sample.seconds, 0);
  const expected = (spent / all) * work;
  return {
    expected,
    low: Math.min(expected / factor, Math.min(...costs) * work),
    high: Math.max(expected * factor, Math.max(...costs) * work),
    basis,
  };
}

function nearestInSize(samples: readonly MeasuredProxy[], pixels: number): readonly MeasuredProxy[] {
  const distance = (sample: MeasuredProxy): number => Math.abs(Math.log(sample.pixels / pixels));
  const nearest = Math.min(...samples.map(distance));
  return samples.filter((sample) => distance(sample) === nearest);
}
