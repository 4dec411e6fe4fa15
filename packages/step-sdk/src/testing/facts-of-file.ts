import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import type { MediaFacts, Ratio } from '@quayside/shoot';
import { z } from 'zod';
import { TrialError } from './trial-error.ts';

const run = promisify(execFile);

const Whole = z.coerce.number().int().nonnegative();
const Tags = z.record(z.string(), z.string()).default({});
const Stream = z.object({
  codec_type: z.string().optional(),
  codec_name: z.string().default('unknown'),
  profile: z.string().nullable().default(null),
  width: z.number().optional(),
  height: z.number().optional(),
  pix_fmt: z.string().default(''),
  r_frame_rate: z.string().default('0/0'),
  avg_frame_rate: z.string().default('0/0'),
  sample_aspect_ratio: z.string().default('1:1'),
  sample_rate: z.coerce.number().optional(),
  channels: z.number().optional(),
  bits_per_raw_sample: Whole.optional(),
  bits_per_sample: Whole.optional(),
  duration_ts: Whole.optional(),
  time_base: z.string().default('1/1'),
  nb_read_packets: Whole.optional(),
  tags: Tags,
});
type Stream = z.output<typeof Stream>;
const Answer = z.object({
  streams: z.array(Stream).default([]),
  format: z.object({ format_name: z.string(), duration: z.coerce.number().optional(), tags: Tags }),
});

/**
 * The facts of a media file as ffprobe tells them, in the form in which a host gives them to a step: kind, rate, length,
 * timecode and sound. What a host finds beyond that (damage, devices, colours) is left empty.
 * @throws TrialError when ffprobe is missing or takes the file for no media
 */
export async function factsOfFile(file: string): Promise<MediaFacts> {
  const { streams, format } = await ask(file);
  const picture = streams.find(({ codec_type }) => codec_type === 'video');
  const sound = streams.filter(({ codec_type }) => codec_type === 'audio');
  const reference = format.tags['time_reference'];
  return {
    kind: picture === undefined ? (sound.length > 0 ? 'sound' : 'other') : 'picture',
    container: format.format_name,
    durationMs: format.duration === undefined ? null : Math.round(format.duration * 1000),
    picture: picture === undefined ? null : pictureFacts(picture),
    startTimecode: [...streams, format].find(({ tags }) => tags['timecode'] !== undefined)?.tags['timecode'] ?? null,
    sound: sound.map((track) => soundFacts(track)),
    wave: reference === undefined ? null : { ...NO_WAVE_FACTS, timeReference: Whole.parse(reference) },
    device: { make: null, model: null, serial: null },
    reel: null,
    created: null,
    damage: [],
  };
}

async function ask(file: string): Promise<z.output<typeof Answer>> {
  const args = ['-v', 'error', '-of', 'json', '-count_packets', '-show_format', '-show_streams', `file:${file}`];
  try {
    return Answer.parse(JSON.parse((await run('ffprobe', args)).stdout));
  } catch (cause) {
    const why = cause instanceof Error ? cause.message.trim() : String(cause);
    throw new TrialError(`The facts of ${file} could not be read with ffprobe: ${why}. Give them as \`facts\`.`, {
      cause,
    });
  }
}

function pictureFacts(track: Stream): NonNullable<MediaFacts['picture']> {
  return {
    codec: track.codec_name,
    profile: track.profile,
    width: track.width ?? 1,
    height: track.height ?? 1,
    pixelAspect: ratioIn(track.sample_aspect_ratio),
    rate: ratioIn(track.r_frame_rate),
    isVariableRate: track.avg_frame_rate !== '0/0' && track.avg_frame_rate !== track.r_frame_rate,
    frameCount: track.nb_read_packets ?? null,
    scan: null,
    bitDepth: track.bits_per_raw_sample ?? null,
    chroma: null,
    colour: { primaries: null, transfer: null, matrix: null },
  };
}

function soundFacts(track: Stream): MediaFacts['sound'][number] {
  const [ticks, base] = [track.duration_ts ?? null, ratioIn(track.time_base)];
  const sampleRate = track.sample_rate ?? null;
  const isKnown = ticks !== null && base !== null && sampleRate !== null;
  return {
    codec: track.codec_name,
    channels: track.channels ?? 1,
    sampleRate,
    bitDepth: track.bits_per_raw_sample ?? (track.bits_per_sample || null),
    sampleCount: isKnown ? Math.round((ticks * base.numerator * sampleRate) / base.denominator) : null,
  };
}

function ratioIn(text: string): Ratio | null {
  const [numerator = 0, denominator = 0] = text.split(/[/:]/).map(Number);
  return numerator > 0 && denominator > 0 ? { numerator, denominator } : null;
}

const NO_WAVE_FACTS = {
  originator: null,
  originatedAt: null,
  project: null,
  scene: null,
  take: null,
  tape: null,
  fileUid: null,
  timecodeRate: null,
  isDropFrame: null,
  samplesSinceMidnight: null,
  timestampSampleRate: null,
  trackNames: [],
};
