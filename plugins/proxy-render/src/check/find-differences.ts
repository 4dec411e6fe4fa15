import type { ProxyTarget } from '@quayside/proxy-planning';
import type { ProxyFacts } from './proxy-facts.ts';

/** What is known of the original beyond what the target repeats. */
export interface OriginalLength {
  /** Of each sound track; null where the file does not tell. */
  readonly soundSeconds: readonly (number | null)[];
  readonly durationMs: number | null;
}

/**
 * Where a finished proxy differs from what was asked for, a part of a sentence each; none when it cuts back to its original:
 * the same frames, first label, rate, channels and duration. Sound may end within a frame of the original's.
 */
export function findDifferences(target: ProxyTarget, original: OriginalLength, proxy: ProxyFacts): readonly string[] {
  const differences: string[] = [];
  const compare = (what: string, wanted: string | number | null, got: string | number | null): void => {
    if (wanted !== got) differences.push(`it has ${what} ${got ?? 'none'} where ${wanted ?? 'none'} is right`);
  };
  compare('frames', target.frameCount, proxy.frames);
  compare('first timecode', target.startTimecode, proxy.timecode);
  if (!target.isVariableRate) compare('rate', lowest(target.rate), proxy.rate);
  compare('size', `${target.width}x${target.height}`, `${proxy.width}x${proxy.height}`);
  compare('pixel aspect', lowest(target.pixelAspect, ':'), proxy.pixelAspect);
  compare('sound channels', channelsOf(target.sound), channelsOf(proxy.sound));
  return [...differences, ...lengthDifferences(target, original, proxy)];
}

function lengthDifferences(
  { rate, frameCount, isVariableRate }: ProxyTarget,
  { soundSeconds, durationMs }: OriginalLength,
  proxy: ProxyFacts,
): readonly string[] {
  const frame = rate.denominator / rate.numerator;
  const wanted = isVariableRate ? (durationMs === null ? null : durationMs / 1000) : frameCount * frame;
  const checks: readonly (readonly [string, number | null, number])[] = [
    ['picture', wanted, proxy.seconds],
    ...proxy.sound.map(
      ({ seconds }, track) => [`sound track ${track + 1}`, soundSeconds[track] ?? null, seconds] as const,
    ),
  ];
  return checks
    .filter(([, length, got]) => length !== null && Math.abs(length - got) > frame)
    .map(
      ([what, length, got]) => `its ${what} lasts ${got.toFixed(3)} s where ${(length ?? 0).toFixed(3)} s are right`,
    );
}

function channelsOf(tracks: readonly { readonly channels: number; readonly sampleRate: number }[]): string | null {
  if (tracks.length === 0) return null;
  return tracks.map(({ channels, sampleRate }) => `${channels} at ${sampleRate} Hz`).join(' + ');
}

function lowest({ numerator, denominator }: ProxyTarget['rate'], sign: '/' | ':' = '/'): string {
  let [larger, smaller] = [numerator, denominator];
  while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
  return `${numerator / larger}${sign}${denominator / larger}`;
}
