import { mkdir, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { makeBroadcastWave } from './make-broadcast-wave.ts';
import { makeClip } from './make-clip.ts';

export interface PotteryClassOrder {
  readonly clipsPerRecorder: number;
  readonly secondsPerClip: number;
  /** When the first take began, for the files' times. By default so that the class has just ended. */
  readonly recordedAt?: Date;
}

interface RecordedFile {
  /** Relative to the recorder's folder. */
  readonly path: string;
  /** Frames at 24000/1001 since the timecode's midnight. */
  readonly startFrame: number;
  readonly startTimecode: string;
  readonly frames: number;
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
    files: Array.from({ length: order.clipsPerRecorder }, (_, take) => plan(recorder, take, order.secondsPerClip)),
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
    startsAfterFrames: 5,
    pathOf: (number) => `CLIPS/HANDS ${number}/HANDS ${number}.MOV`,
  },
  { name: 'wide', role: 'camera', reel: 'D001', startsAfterFrames: 11, pathOf: (number) => `CLIPS/WIDE${number}.MOV` },
  {
    name: 'kiln',
    role: 'camera',
    reel: 'K001',
    startsAfterFrames: 17,
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
const LABELS_PER_SECOND = 24;
/** At 48 kHz a frame of 24000/1001 is exactly 2002 samples long. */
const SAMPLES_PER_FRAME = 2002;
const SAMPLE_RATE = 48_000;
const CLASS_BEGINS = 10 * 3600 * LABELS_PER_SECOND;
const PAUSE_SECONDS = 30;
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
  };
}

async function record(
  { name, role, folder }: Recording,
  { path, startFrame, startTimecode, frames }: RecordedFile,
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
      timeReferenceSamples: startFrame * SAMPLES_PER_FRAME,
      sampleRate: SAMPLE_RATE,
      tone,
      description,
      originator: name,
    });
  } else {
    const seconds = (frames * RATE.den) / RATE.num;
    const reel = RECORDERS.find((recorder) => recorder.name === name)?.reel ?? name;
    await makeClip({ file, seconds, rate: RATE, startTimecode, codec: 'prores-lt', tone, reel });
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
