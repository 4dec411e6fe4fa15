import { createHash } from 'node:crypto';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { factsOfTake, TAKE_EVERY_SECONDS } from '../idle/facts-of-take.ts';

export interface Laying {
  /** The roots of the destinations, each of which gets all records. */
  readonly roots: readonly string[];
  readonly rolls: number;
  readonly clipsPerRoll: number;
}

const RECORDERS = ['wheel', 'hands', 'wide', 'kiln'] as const;
const FIRST_DAY = Date.UTC(2026, 0, 5);
const FIRST_TAKE_SECONDS = 9 * 3600;
const DAY_MS = 24 * 3600 * 1000;
const ROLLS_PER_DAY = 12;

/** Lays the records beside footage that is not there: of so many sealed rolls, with what their clips are, as the worker writes them. */
export async function layRecords({ roots, rolls, clipsPerRoll }: Laying): Promise<void> {
  for (let number = 0; number < rolls; number += 1) {
    const day = new Date(FIRST_DAY + Math.floor(number / ROLLS_PER_DAY) * DAY_MS);
    const roll = rollOf(number, day);
    const round = Math.floor((number % ROLLS_PER_DAY) / RECORDERS.length);
    const clips = clipsOf(roll.recorder, { count: clipsPerRoll, day, first: round * clipsPerRoll });
    const sealedAt = new Date(day.getTime() + 20 * 3600 * 1000).toISOString();
    const record = {
      format: 1,
      ...roll,
      visit: 1,
      fingerprint: roll.digest.slice(0, 32),
      openedAt: day.toISOString(),
      sealedAt,
      manifest: { generation: 1, c4: `c4${roll.digest}` },
      files: clips.map(({ file }) => ({ ...file, ...storedAs(file) })),
    };
    const facts = {
      format: 1,
      rollId: roll.rollId,
      files: clips.map(({ file, facts: own }) => ({ ...file, facts: own })),
    };
    for (const root of roots) {
      const folder = join(root, roll.shootId, 'records');
      await writeJson(join(folder, 'rolls'), `${roll.rollId}.json`, record);
      await writeJson(join(folder, 'facts'), `${roll.rollId}.json`, facts);
    }
  }
}

function rollOf(number: number, day: Date): ReturnType<typeof identify> {
  const recorder = RECORDERS[number % RECORDERS.length] ?? 'wheel';
  const digest = createHash('sha256').update(String(number)).digest('hex');
  return identify(recorder, digest, day.toISOString().slice(0, 10));
}

function identify(recorder: string, digest: string, shootId: string) {
  return {
    rollId: `${recorder}-${shootId.replaceAll('-', '')}-${digest.slice(0, 6)}`,
    shootId,
    recorder,
    role: 'camera',
    digest,
    volume: {
      key: `uuid-${digest.slice(0, 16)}`,
      basis: 'uuid',
      uuid: `${digest.slice(0, 4)}-${digest.slice(4, 8)}`.toUpperCase(),
      serial: null,
      label: recorder.toUpperCase(),
      fileSystem: 'exfat',
      sizeInBytes: 1_000_000_000_000,
    },
  };
}

interface Clip {
  readonly file: { readonly path: string; readonly sizeInBytes: number; readonly modifiedMs: number };
  readonly facts: ReturnType<typeof factsOfTake>;
}

function clipsOf(
  recorder: string,
  { count, day, first }: { readonly count: number; readonly day: Date; readonly first: number },
): readonly Clip[] {
  return Array.from({ length: count }, (_, index) => {
    const startSeconds = FIRST_TAKE_SECONDS + (first + index) * TAKE_EVERY_SECONDS;
    const path = `CLIPS/${recorder}-take-${String(index + 1).padStart(4, '0')}.mov`;
    return {
      file: { path, sizeInBytes: 1_900_000_000, modifiedMs: day.getTime() + startSeconds * 1000 },
      facts: factsOfTake(startSeconds),
    };
  });
}

function storedAs({ path, modifiedMs }: Clip['file']): object {
  const xxh128 = createHash('md5').update(`${path} ${modifiedMs}`).digest('hex');
  return {
    storedPath: path,
    storedTimes: { modifiedMs, changedMs: modifiedMs },
    digests: { xxh128 },
    method: 'direct',
  };
}

async function writeJson(folder: string, name: string, value: object): Promise<void> {
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, name), `${JSON.stringify(value, null, 1)}\n`);
}
