import type { SoundFacts } from '@quayside/shoot';
import type { PictureSize } from '../policy/picture-size.ts';
import type { ProxyCodec } from '../policy/proxy-policy.ts';
import { proresFrame } from '../rates/picture-bytes.ts';
import type { BasedEstimate } from './estimate.ts';
import { type Measured, pairKey } from './measured-proxy.ts';

export interface ProxyToWeigh {
  readonly codec: ProxyCodec;
  readonly size: PictureSize;
  /** Frames in a second. */
  readonly rate: number;
  readonly frames: number;
  /** For h264: 10^6 bits in a second. */
  readonly megabits: number | null;
  readonly sound: readonly ProxySound[];
}

export interface ProxySound {
  readonly channels: number;
  readonly sampleRate: number;
  readonly bitDepth: 16 | 24;
}

/** The index and the heads of a file: about one part in a hundred. */
const CONTAINER = 1.01;

/**
 * The bytes of a whole proxy, sound and container counted. Before anything was measured it is the target of the publisher's
 * table: encoders stay 5 to 10 % under it with usual pictures and far under it with empty ones, and a size that is not in the table
 * may be a tenth over; or for h264 the bit rate asked for. What was measured of the same pair of codecs corrects it.
 */
export function estimateBytes(
  { from, ...proxy }: ProxyToWeigh & { readonly from: string },
  measured: Measured,
): BasedEstimate {
  const { bytes: table, low, high, basis } = byTable(proxy);
  const learned = measured.allOfPair.get(pairKey(from, proxy.codec));
  if (learned === undefined) {
    return { expected: Math.round(table), low: Math.floor(table * low), high: Math.ceil(table * high), basis };
  }
  const { mean, least, most } = learned.bytes;
  return {
    expected: Math.round(table * mean),
    low: Math.floor(table * Math.min(mean * 0.9, least)),
    high: Math.ceil(table * Math.max(mean * 1.1, most)),
    basis: 'measured here',
  };
}

/** What the tables or the bit rate say of a proxy, sound and container counted. */
export function tableBytes(proxy: ProxyToWeigh): number {
  return Math.round(byTable(proxy).bytes);
}

function byTable(proxy: ProxyToWeigh): {
  readonly bytes: number;
  readonly low: number;
  readonly high: number;
  readonly basis: BasedEstimate['basis'];
} {
  const seconds = proxy.frames / proxy.rate;
  const sound = proxy.sound.reduce((sum, one) => sum + one.channels * one.sampleRate * (one.bitDepth / 8), 0) * seconds;
  if (proxy.codec === 'h264') {
    const bytes = ((proxy.megabits ?? 0) * 1_000_000 * seconds) / 8;
    return { bytes: (bytes + sound) * CONTAINER, low: 0.7, high: 1.15, basis: 'bit rate asked for' };
  }
  const { bytes, isListed } = proresFrame('prores-422-proxy', proxy.size);
  const whole = (bytes * proxy.frames + sound) * CONTAINER;
  return isListed
    ? { bytes: whole, low: 0.8, high: 1.02, basis: 'published table' }
    : { bytes: whole, low: 0.7, high: 1.12, basis: 'scaled from the published table' };
}

/** The bit rate of an h264 proxy in megabits in a second: that at 1920x1080 and 25 frames, by pixels and rate. */
export function megabitsOf({
  size,
  rate,
  megabits,
}: Pick<ProxyToWeigh, 'size' | 'rate'> & { readonly megabits: number }): number {
  return (megabits * size.width * size.height * rate) / (1920 * 1080 * 25);
}

/** The sound of a proxy: every channel of the original, uncompressed, at its own rate, 24 bits where it has more than 16. */
export function soundOf(facts: readonly SoundFacts[]): readonly ProxySound[] {
  return facts.map(({ channels, sampleRate, bitDepth }) => ({
    channels,
    sampleRate: sampleRate ?? 48_000,
    bitDepth: bitDepth !== null && bitDepth > 16 ? 24 : 16,
  }));
}
