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

/** What measurements of one kind come to: over all of them, and the least and the most of any. */
export interface Experience {
  readonly mean: number;
  readonly least: number;
  readonly most: number;
}

/** Seconds for a pixel of a frame, and bytes for each that the table says. */
interface Learned {
  readonly seconds: Experience;
  readonly bytes: Experience;
}

/** Measurements summed up by what they are asked for. */
export interface Measured {
  /** By codecs, and then by pixels of a picture. */
  readonly byPair: ReadonlyMap<string, ReadonlyMap<number, Learned>>;
  readonly allOfPair: ReadonlyMap<string, Learned>;
  readonly byTarget: ReadonlyMap<ProxyCodec, Learned>;
}

/** Sums measurements up once, so that each of ten thousand clips need not look at them all. */
export function sumUpMeasured(all: readonly MeasuredProxy[]): Measured {
  const pairs = Map.groupBy(all, ({ from, to }) => pairKey(from, to));
  return {
    byPair: mapValues(pairs, (of) =>
      mapValues(
        Map.groupBy(of, ({ pixels }) => pixels),
        learn,
      ),
    ),
    allOfPair: mapValues(pairs, learn),
    byTarget: mapValues(
      Map.groupBy(all, ({ to }) => to),
      learn,
    ),
  };
}

export function pairKey(from: string, to: ProxyCodec): string {
  return `${from.toLowerCase()} ${to}`;
}

function learn(samples: readonly MeasuredProxy[]): Learned {
  return {
    seconds: experienceOf(samples.map(({ seconds, pixels, frames }) => [seconds, pixels * frames])),
    bytes: experienceOf(samples.map(({ bytes, tableBytes }) => [bytes, tableBytes])),
  };
}

function experienceOf(parts: readonly (readonly [number, number])[]): Experience {
  let [spent, work, least, most] = [0, 0, Number.POSITIVE_INFINITY, 0];
  for (const [cost, of] of parts) {
    spent += cost;
    work += of;
    least = Math.min(least, cost / of);
    most = Math.max(most, cost / of);
  }
  return { mean: spent / work, least, most };
}

function mapValues<Key, Value, Result>(
  map: ReadonlyMap<Key, Value>,
  change: (value: Value) => Result,
): ReadonlyMap<Key, Result> {
  return new Map([...map].map(([key, value]) => [key, change(value)]));
}
