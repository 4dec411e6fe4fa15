import { QuaysideError } from '@quayside/shoot';
import { runFfmpeg } from './run-ffmpeg.ts';

/** Frames per second as a rational: 23.976 is `{ num: 24_000, den: 1001 }`. */
interface Rate {
  readonly num: number;
  readonly den: number;
}

export interface ClipOrder {
  readonly file: string;
  /** Rounded to whole frames. */
  readonly seconds: number;
  readonly rate: Rate;
  /** `HH:MM:SS:FF`, with `;` before the frames for drop-frame; null makes a clip without a timecode track. */
  readonly startTimecode: string | null;
  readonly codec: keyof typeof CODECS;
  readonly size?: { readonly width: number; readonly height: number };
  /** Pitch of the sound in hertz; null makes a silent clip without a sound track. */
  readonly tone: number | null;
  /** Reel name for the timecode track. */
  readonly reel?: string;
}

/**
 * Makes a QuickTime clip: a moving picture that shows its own running count, sound of exactly the same length, and a
 * timecode track. Returns how many frames it has.
 * @throws QuaysideError `MEDIA_NOT_MADE`
 */
export async function makeClip(order: ClipOrder): Promise<{ readonly frames: number }> {
  const { rate, tone, startTimecode, reel, size = SMALL } = order;
  // ffmpeg makes a clip without timecode, and says that all is well, when it cannot read the one it was given.
  if (startTimecode !== null && !/^\d\d:\d\d:\d\d[:;]\d\d$/.test(startTimecode)) {
    const sentence = `${order.file} was not made: "${startTimecode}" is no timecode. Write HH:MM:SS:FF.`;
    throw new QuaysideError({ code: 'MEDIA_NOT_MADE', sentence, retry: 'never' });
  }
  const frames = Math.max(1, Math.round((order.seconds * rate.num) / rate.den));
  const samples = Math.round((frames * rate.den * SOUND_RATE) / rate.num);
  const picture = `testsrc2=size=${size.width}x${size.height}:rate=${rate.num}/${rate.den},trim=end_frame=${frames}`;
  const sound =
    tone === null
      ? []
      : ['-f', 'lavfi', '-i', `sine=frequency=${tone}:sample_rate=${SOUND_RATE},atrim=end_sample=${samples}`];
  await runFfmpeg(order.file, [
    ['-f', 'lavfi', '-i', picture, ...sound],
    CODECS[order.codec],
    tone === null ? [] : ['-c:a', 'pcm_s24le'],
    startTimecode === null ? [] : ['-timecode', startTimecode],
    reel === undefined ? [] : ['-metadata:s:v:0', `reel_name=${reel}`],
    ['-f', 'mov'],
  ]);
  return { frames };
}

const SOUND_RATE = 48_000;
const SMALL = { width: 320, height: 180 };

const prores = (profile: number): readonly string[] => [
  '-c:v',
  'prores_ks',
  '-profile:v',
  String(profile),
  '-pix_fmt',
  'yuv422p10le',
];

const CODECS = {
  'prores-proxy': prores(0),
  'prores-lt': prores(1),
  'prores-422': prores(2),
  'prores-hq': prores(3),
  h264: ['-c:v', 'libx264', '-preset', 'ultrafast', '-pix_fmt', 'yuv420p'],
} as const satisfies Record<string, readonly string[]>;
