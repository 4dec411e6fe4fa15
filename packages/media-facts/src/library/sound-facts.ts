import type { SoundFacts } from '@quayside/shoot';
import type { Described } from './ask-library.ts';

/** A sound track as the library describes it. Null when it gives no channels. */
export function soundFrom(track: Described): SoundFacts | null {
  const channels = track.number('Channels');
  if (!channels) return null;
  return {
    codec: track.text('Format') ?? track.text('CodecID') ?? 'unknown',
    channels,
    sampleRate: track.number('SamplingRate') || null,
    bitDepth: track.number('BitDepth') || null,
    sampleCount: track.number('SamplingCount'),
  };
}
