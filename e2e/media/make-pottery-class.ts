import { mkdir, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { makeBroadcastWave } from './make-broadcast-wave.ts';
import { makeClip } from './make-clip.ts';

export interface PotteryClassOrder {
  readonly clipsPerRecorder: number;
  readonly secondsPerClip: number;
  /**
   * Whether the last take is recorded with the mistakes that ruin an edit: `kiln` starts late, `hands` is cut short, `wide`
   * runs at 25 frames a second, and `desk` counts its samples since midnight at 24 frames a second instead of 24000/1001.
   */
  readonly spoilsLastTake?: boolean;
  /** When the first take began, for the files' times. By default so that the class has just ended. */
  readonly recordedAt?: Date;
}

interface RecordedFile {
  /** Relative to the recorder's folder. */
  readonly path: string;
  /** Frames at 24000/1001 since the timecode's midnight. */
  readonly startFrame: number;
  readonly startTimecode: string;
  /** Frames of `rate`. */
  readonly frames: number;
  readonly rate: typeof RATE;
  /** Sound: samples that are counted for each frame since midnight. */
  readonly samplesPerFrame: number;
}

export interface Recording {
  readonly name: string;
  readonly role: 'camera' | 'sound';
  /** Where the recorder's drive is laid out. */
  readonly folder: string;
  readonly files: readonly RecordedFile[];
}

/**
 * Makes what five recorders of a pottery class left on their drives, one folder each: four cameras and a sound recorder,
 * all on one timecode clock, started a few frames apart as hands do. Two files are made at a time.
 */
export async function makePotteryClass(folder: string, order: PotteryClassOrder): Promise<readonly Recording[]> {
  const beganAt = order.recordedAt ?? new Date(Date.now() - lengthInSeconds(order) * 1000);
  const recordings = RECORDERS.map((recorder) => ({
    name: recorder.name,
    role: recorder.role,
    folder: join(folder, recorder.name),
    files: Array.from({ length: order.clipsPerRecorder }, (_, take) => {
      const planned = plan(recorder, take, order.secondsPerClip);
      const isSpoilt = order.spoilsLastTake === true && take === order.clipsPerRecorder - 1;
      return isSpoilt ? spoil(recorder.name, planned) : planned;
    }),
  }));
  const jobs = recordings.flatMap((recording) => recording.files.map((file) => () => record(recording, file, beganAt)));
  const [firstHalf, secondHalf] = [
    jobs.filter((_, index) => index % 2 === 0),
    jobs.filter((_, index) => index % 2 === 1),
  ];
  await Promise.all([
    inTurn(firstHalf),
    inTurn(secondHalf),
    ...recordings.map((recording) => writeNotes(recording, beganAt)),
  ]);
  return recordings;
}

interface Recorder {
  readonly name: string;
  readonly role: 'camera' | 'sound';
  readonly reel: string;
  readonly startsAfterFrames: number;
  readonly pathOf: (number: string) => string;
}

const RECORDERS: readonly Recorder[] = [
  {
    name: 'wheel',
    role: 'camera',
    reel: 'W001',
    startsAfterFrames: 0,
    pathOf: (number) => `CLIPS/W001/W001_C${number}.MOV`,
  },
  {
    name: 'hands',
    role: 'camera',
    reel: 'H001',
    startsAfterFrames: 2,
    pathOf: (number) => `CLIPS/HANDS ${number}/HANDS ${number}.MOV`,
  },
  { name: 'wide', role: 'camera', reel: 'D001', startsAfterFrames: 4, pathOf: (number) => `CLIPS/WIDE${number}.MOV` },
  {
    name: 'kiln',
    role: 'camera',
    reel: 'K001',
    startsAfterFrames: 7,
    pathOf: (number) => `K001/TAKE_${number}/kiln-${number}.mov`,
  },
  {
    name: 'desk',
    role: 'sound',
    reel: 'DESK',
    startsAfterFrames: -24,
    pathOf: (number) => `SOUND/CLASS/T${number}.WAV`,
  },
];

const RATE = { num: 24_000, den: 1001 };
const WRONG_RATE = { num: 25, den: 1 };
const LATE_FRAMES = 30;
const SHORT_FRAMES = 24;
const LABELS_PER_SECOND = 24;
/** At 48 kHz a frame of 24000/1001 is exactly 2002 samples long. */
const SAMPLES_PER_FRAME = 2002;
const SAMPLES_PER_FRAME_AT_24 = 2000;
const SAMPLE_RATE = 48_000;
const CLASS_BEGINS = 10 * 3600 * LABELS_PER_SECOND;
/** Long enough that sound which is 36 s off, as 0.1 % are in the morning, falls between two takes. */
const PAUSE_SECONDS = 60;
const PITCHES: Readonly<Record<string, number>> = { wheel: 330, hands: 392, wide: 494, kiln: 587, desk: 440 };

function plan(recorder: Recorder, take: number, seconds: number): RecordedFile {
  const startFrame =
    CLASS_BEGINS + Math.round(take * (seconds + PAUSE_SECONDS) * LABELS_PER_SECOND) + recorder.startsAfterFrames;
  const frames =
    Math.max(1, Math.round((seconds * RATE.num) / RATE.den)) + (recorder.role === 'sound' ? 2 * LABELS_PER_SECOND : 0);
  return {
    path: recorder.pathOf(String(take + 1).padStart(3, '0')),
    startFrame,
    startTimecode: labelOf(startFrame),
    frames,
    rate: RATE,
    samplesPerFrame: SAMPLES_PER_FRAME,
  };
}

/** Common practice: a camera at the wrong rate follows the clock's hours, minutes and seconds, and counts its own frames. */
function spoil(recorder: string, file: RecordedFile): RecordedFile {
  const { startFrame, frames } = file;
  switch (recorder) {
    case 'kiln': {
      const late = startFrame + LATE_FRAMES;
      return { ...file, startFrame: late, startTimecode: labelOf(late), frames: frames - LATE_FRAMES };
    }
    case 'hands':
      return { ...file, frames: frames - SHORT_FRAMES };
    case 'wide':
      return { ...file, rate: WRONG_RATE, frames: Math.round((frames * 25) / LABELS_PER_SECOND) };
    case 'desk':
      return { ...file, samplesPerFrame: SAMPLES_PER_FRAME_AT_24 };
    default:
      return file;
  }
}

async function record(
  { name, role, folder }: Recording,
  { path, startFrame, startTimecode, frames, rate, samplesPerFrame }: RecordedFile,
  beganAt: Date,
): Promise<void> {
  const file = join(folder, path);
  const tone = PITCHES[name] ?? 440;
  if (role === 'sound') {
    const seconds = (frames * SAMPLES_PER_FRAME) / SAMPLE_RATE;
    const description = `pottery class, from ${startTimecode}`;
    await makeBroadcastWave({
      file,
      seconds,
      timeReferenceSamples: startFrame * samplesPerFrame,
      sampleRate: SAMPLE_RATE,
      tone,
      description,
      originator: name,
      timecodeRate: samplesPerFrame === SAMPLES_PER_FRAME ? '24000/1001' : '24/1',
    });
  } else {
    const seconds = (frames * rate.den) / rate.num;
    const reel = RECORDERS.find((recorder) => recorder.name === name)?.reel ?? name;
    await makeClip({ file, seconds, rate, startTimecode, codec: 'prores-lt', tone, reel });
  }
  const endedAt = new Date(beganAt.getTime() + ((startFrame + frames - CLASS_BEGINS) * RATE.den * 1000) / RATE.num);
  await utimes(file, endedAt, endedAt);
}

/** The small text file that recorders leave beside the footage. */
async function writeNotes({ name, folder, files }: Recording, beganAt: Date): Promise<void> {
  await mkdir(folder, { recursive: true });
  const lines = files.map(
    ({ path, startTimecode, frames }) => `${startTimecode} ${String(frames).padStart(6)} ${path}`,
  );
  const notes = join(folder, 'NOTES.TXT');
  await writeFile(notes, [`recorder ${name}`, 'rate 24000/1001', ...lines, ''].join('\r\n'));
  await utimes(notes, beganAt, beganAt);
}

async function inTurn(jobs: readonly (() => Promise<void>)[]): Promise<void> {
  for (const job of jobs) await job();
}

function lengthInSeconds({ clipsPerRecorder, secondsPerClip }: PotteryClassOrder): number {
  return clipsPerRecorder * (secondsPerClip + PAUSE_SECONDS) + PAUSE_SECONDS;
}

/** Non-drop-frame label: 24 frames are counted per labelled second. */
function labelOf(frame: number): string {
  const seconds = Math.floor(frame / LABELS_PER_SECOND);
  const parts = [
    Math.floor(seconds / 3600) % 24,
    Math.floor(seconds / 60) % 60,
    seconds % 60,
    frame % LABELS_PER_SECOND,
  ];
  return parts.map((part) => String(part).padStart(2, '0')).join(':');
}
