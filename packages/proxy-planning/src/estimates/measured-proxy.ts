import { z } from 'zod';
import { ProxyCodec } from '../policy/proxy-policy.ts';

/** What making one proxy took on this machine: what later estimates learn from. */
export const MeasuredProxy = z.object({
  /** The codec of the original, as its facts name it. */
  from: z.string(),
  to: ProxyCodec,
  /** Pixels of one picture of the original. */
  pixels: z.number().int().positive(),
  frames: z.number().int().positive(),
  seconds: z.number().positive(),
  /** What the tables or the bit rate say for it, and what it came to. */
  tableBytes: z.number().int().positive(),
  bytes: z.number().int().positive(),
});
export type MeasuredProxy = z.output<typeof MeasuredProxy>;

/** Measurements, sorted by what they are asked for. */
export interface Measured {
  readonly bySize: ReadonlyMap<string, readonly MeasuredProxy[]>;
  readonly byPair: ReadonlyMap<string, readonly MeasuredProxy[]>;
  readonly byTarget: ReadonlyMap<ProxyCodec, readonly MeasuredProxy[]>;
}

/** Sorts measurements once, so that ten thousand clips can ask them. */
export function sortMeasured(all: readonly MeasuredProxy[]): Measured {
  return {
    bySize: Map.groupBy(all, ({ from, to, pixels }) => sizeKey(pairKey(from, to), pixels)),
    byPair: Map.groupBy(all, ({ from, to }) => pairKey(from, to)),
    byTarget: Map.groupBy(all, ({ to }) => to),
  };
}

export function pairKey(from: string, to: ProxyCodec): string {
  return `${from.toLowerCase()} ${to}`;
}

export function sizeKey(pair: string, pixels: number): string {
  return `${pair} ${pixels}`;
}
