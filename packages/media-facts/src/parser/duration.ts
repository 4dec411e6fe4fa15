import type { SoundFacts } from '@quayside/shoot';

/** How long a sound track lasts, in milliseconds. Null when it is not counted. */
export function soundMs({ sampleCount, sampleRate }: SoundFacts): number | null {
  return sampleCount === null || sampleRate === null ? null : (sampleCount * 1000) / sampleRate;
}

/** A clip lasts as long as its pictures; one without, as long as its longest sound. In milliseconds, to the microsecond. */
export function durationMsOf(pictureMs: number | null, sound: readonly SoundFacts[]): number | null {
  const lengths = pictureMs === null ? sound.flatMap((track) => soundMs(track) ?? []) : [pictureMs];
  return lengths.length === 0 ? null : Math.round(Math.max(...lengths) * 1000) / 1000;
}
