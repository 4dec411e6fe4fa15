import { type ProxyToWeigh, tableBytes } from '../estimates/estimate-bytes.ts';
import type { MeasuredProxy } from '../estimates/measured-proxy.ts';
import type { ProxyTarget } from './proxy-plan.ts';

/** A target as its bytes are worked out. */
export function toWeigh({ codec, width, height, rate, frameCount, megabits, sound }: ProxyTarget): ProxyToWeigh {
  const perSecond = rate.numerator / rate.denominator;
  return { codec, size: { width, height }, rate: perSecond, frames: frameCount, megabits, sound };
}

/** What is learned from a proxy that was made: of which original, in how many seconds, and what it weighs. */
export function measuredOf(
  target: ProxyTarget,
  original: { readonly codec: string; readonly width: number; readonly height: number },
  made: { readonly seconds: number; readonly bytes: number },
): MeasuredProxy {
  return {
    from: original.codec,
    to: target.codec,
    pixels: original.width * original.height,
    frames: target.frameCount,
    seconds: made.seconds,
    tableBytes: tableBytes(toWeigh(target)),
    bytes: made.bytes,
  };
}
