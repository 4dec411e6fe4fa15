import type { MediaFacts, SoundFacts, WaveFacts } from '@quayside/shoot';
import { parseBext } from '../wave/parse-bext.ts';
import { parseIxml } from '../wave/parse-ixml.ts';
import type { Wave } from '../wave/read-wave.ts';
import { durationMsOf } from './duration.ts';

/** The library's description of a wave file with the exact numbers and texts of its own chunks. */
export function withWave(described: MediaFacts, wave: Wave): MediaFacts {
  const sound = wave.format === null ? described.sound : [withFormat(described.sound[0], wave)];
  const facts = waveFacts(wave);
  return {
    ...described,
    kind: 'sound',
    container: wave.container,
    durationMs: durationMsOf(null, sound) ?? described.durationMs,
    sound,
    wave: facts,
    reel: facts.tape ?? described.reel,
    created: facts.originatedAt === null ? described.created : { at: facts.originatedAt, zone: 'unknown' },
    damage: wave.cut === null ? [] : [{ kind: 'truncated', why: wave.cut }],
  };
}

function withFormat(described: SoundFacts | undefined, { format, sampleCount }: Wave): SoundFacts {
  const { channels = 1, sampleRate = null, bitDepth = 0 } = format ?? {};
  return {
    codec: format?.isPcm === true ? 'PCM' : (described?.codec ?? 'unknown'),
    channels,
    sampleRate,
    bitDepth: bitDepth > 0 ? bitDepth : null,
    sampleCount: sampleCount ?? described?.sampleCount ?? null,
  };
}

function waveFacts(wave: Wave): WaveFacts {
  const bext = wave.bext === null ? null : parseBext(wave.bext);
  const ixml = wave.ixml === null ? null : parseIxml(wave.ixml);
  return {
    timeReference: bext?.timeReference ?? null,
    originator: bext?.originator ?? null,
    originatedAt: bext?.originatedAt ?? null,
    project: ixml?.project ?? null,
    scene: ixml?.scene ?? null,
    take: ixml?.take ?? null,
    tape: ixml?.tape ?? null,
    fileUid: ixml?.fileUid ?? null,
    timecodeRate: ixml?.timecodeRate ?? null,
    isDropFrame: ixml?.isDropFrame ?? null,
    samplesSinceMidnight: ixml?.samplesSinceMidnight ?? null,
    timestampSampleRate: ixml?.timestampSampleRate ?? null,
    trackNames: ixml?.trackNames ?? [],
  };
}
