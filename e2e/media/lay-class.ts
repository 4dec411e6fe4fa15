import { mkdir, open, utimes } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { writeFolderVolumeMarker } from '@quayside/volumes';
import { makeClip } from './make-clip.ts';

export interface ClassOrder {
  readonly folder: string;
  readonly takes: number;
  /** Each clip is filled up to this size with free space that its container declares. */
  readonly clipBytes: number;
  /** Default: all four cameras. */
  readonly recorders?: readonly Camera[];
}

export const CAMERAS = ['wheel', 'hands', 'wide', 'kiln'] as const;
type Camera = (typeof CAMERAS)[number];
const MINUTES_BETWEEN = 2;

/** Four folder volumes, each with a clip of every take. Real media, as small as they can be, filled up without content. */
export async function layClass({ folder, takes, clipBytes, recorders = CAMERAS }: ClassOrder): Promise<void> {
  const jobs = recorders.flatMap((recorder) =>
    Array.from({ length: takes }, (_, take) => () => layClip({ folder, recorder, take, clipBytes })),
  );
  const [even, odd] = [jobs.filter((_, index) => index % 2 === 0), jobs.filter((_, index) => index % 2 === 1)];
  await Promise.all([inTurn(even), inTurn(odd)]);
  for (const recorder of recorders)
    await writeFolderVolumeMarker(join(folder, recorder), { label: recorder.toUpperCase() });
}

async function inTurn(jobs: readonly (() => Promise<void>)[]): Promise<void> {
  for (const job of jobs) await job();
}

interface ClipPlace {
  readonly folder: string;
  readonly recorder: Camera;
  readonly take: number;
  readonly clipBytes: number;
}

async function layClip({ folder, recorder, take, clipBytes }: ClipPlace): Promise<void> {
  const file = join(folder, recorder, 'CLIPS', `${recorder}-${String(take + 1).padStart(3, '0')}.mov`);
  await mkdir(dirname(file), { recursive: true });
  const minutes = take * MINUTES_BETWEEN;
  const label = [10 + Math.floor(minutes / 60), minutes % 60, 0, CAMERAS.indexOf(recorder)];
  await makeClip({
    file,
    seconds: 1,
    rate: { num: 24_000, den: 1001 },
    startTimecode: label.map((part) => String(part).padStart(2, '0')).join(':'),
    codec: 'prores-proxy',
    size: { width: 64, height: 36 },
    tone: 440,
  });
  await fillUp(file, clipBytes);
  const at = new Date(Date.now() - 86_400_000 + minutes * 60_000);
  await utimes(file, at, at);
}

/** ISO/IEC 14496-12, 8.1.2: the content of a `free` box has no meaning and is passed over. */
async function fillUp(file: string, bytes: number): Promise<void> {
  const handle = await open(file, 'r+');
  try {
    const { size } = await handle.stat();
    const rest = bytes - size;
    if (rest < 8) return;
    const head = Buffer.from('\0\0\0\0free');
    head.writeUInt32BE(rest);
    await handle.write(head, 0, head.length, size);
    await handle.truncate(bytes);
  } finally {
    await handle.close();
  }
}
