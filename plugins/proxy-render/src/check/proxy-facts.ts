import { z } from 'zod';

/** What ffprobe says of a finished proxy, as far as it is checked. */
export interface ProxyFacts {
  readonly codec: string;
  readonly width: number;
  readonly height: number;
  readonly pixelAspect: string;
  /** What frames and length come to, as a fraction in lowest terms, `24000/1001`: ffprobe's other rate is a guess among some. */
  readonly rate: string;
  /** Frames that are in the file, counted. */
  readonly frames: number;
  readonly seconds: number;
  readonly timecode: string | null;
  readonly sound: readonly {
    readonly channels: number;
    readonly sampleRate: number;
    readonly bitDepth: number;
    readonly seconds: number;
  }[];
}

/** The arguments that have ffprobe say it. Counting reads the whole proxy. */
export function probeArguments(file: string): readonly string[] {
  return ['-v', 'error', '-of', 'json', '-count_packets', '-show_streams', `file:${file}`];
}

const Stream = z.object({
  codec_type: z.string().optional(),
  codec_name: z.string().default(''),
  width: z.number().default(0),
  height: z.number().default(0),
  sample_aspect_ratio: z.string().default('1:1'),
  avg_frame_rate: z.string().default(''),
  nb_read_packets: z.coerce.number().default(0),
  duration: z.coerce.number().default(0),
  channels: z.number().default(0),
  sample_rate: z.coerce.number().default(0),
  bits_per_sample: z.number().default(0),
  tags: z.record(z.string(), z.string()).default({}),
});
const Answer = z.object({ streams: z.array(Stream) });

/** Reads ffprobe's JSON. Null when there is no picture in it. @throws ZodError for an answer in another form */
export function readProxyFacts(json: string): ProxyFacts | null {
  const { streams } = Answer.parse(JSON.parse(json));
  const picture = streams.find(({ codec_type }) => codec_type === 'video');
  if (picture === undefined) return null;
  return {
    codec: picture.codec_name,
    width: picture.width,
    height: picture.height,
    pixelAspect: picture.sample_aspect_ratio,
    rate: picture.avg_frame_rate,
    frames: picture.nb_read_packets,
    seconds: picture.duration,
    timecode: streams.map(({ tags }) => tags['timecode']).find((label) => label !== undefined) ?? null,
    sound: streams
      .filter(({ codec_type }) => codec_type === 'audio')
      .map(({ channels, sample_rate, bits_per_sample, duration }) => ({
        channels,
        sampleRate: sample_rate,
        bitDepth: bits_per_sample,
        seconds: duration,
      })),
  };
}
