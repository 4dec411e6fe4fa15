import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { promisify } from 'node:util';
import { QuaysideError } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { calmControls, copyHere, ROLL, type TestCopy } from '../media-files.test-support.ts';
import { BLOCK_BYTES } from './block.ts';
import { PART_NAME, restingParts } from './part-folders.ts';

const run = promisify(execFile);

/** A file of five blocks and a half. */
export const LARGE_BYTES = 5 * BLOCK_BYTES + BLOCK_BYTES / 2 + 77;

/** Copies until so many bytes have passed, and is then called off. */
export async function copyInterrupted(test: TestCopy, afterBytes: number): Promise<void> {
  const stop = new AbortController();
  const called = new QuaysideError({ code: 'TEST_STOP', sentence: 'Enough.', retry: 'later' });
  const controls = calmControls();
  let passed = 0;
  const onBytes = (bytes: number): void => {
    passed += bytes;
    if (passed >= afterBytes) stop.abort(called);
  };
  await copyHere({ ...test, controls: { ...controls, signal: stop.signal, onBytes } }).then(
    () => {
      throw new Error('The copy was not interrupted');
    },
    (error: unknown) => {
      if (error !== called) throw error;
    },
  );
}

export interface LeftPart {
  readonly folder: string;
  readonly path: string;
  readonly journal: string;
  readonly blocks: number;
  readonly inode: string;
  readonly sizeInBytes: number;
}

/** The one part that lies interrupted at a destination. */
export async function partAt(root: string): Promise<LeftPart> {
  const [folder = '', ...more] = await restingParts(join(root, '.quayside/staging'));
  if (folder === '' || more.length > 0)
    throw new Error(`Expected one part, found ${folder === '' ? 0 : 1 + more.length}`);
  const path = join(folder, PART_NAME);
  const journal = join(folder, 'journal');
  const { size } = await stat(path);
  const lines = (await readFile(journal, 'utf8')).trimEnd().split('\n');
  return { folder, path, journal, blocks: lines.length - 1, inode: await inodeOf(path), sizeInBytes: size };
}

/** Leaves only the first so many blocks in a part's journal. */
export async function shortenJournal({ journal }: LeftPart, blocks: number): Promise<void> {
  const lines = (await readFile(journal, 'utf8')).split('\n');
  await writeFile(journal, `${lines.slice(0, blocks + 1).join('\n')}\n`);
}

/** Where the large file lies at a destination in the end. */
export function storedAt({ root }: Destination): string {
  return join(root, ROLL.folder, 'CLIPS/long.mov');
}

/** Which file it is: a number is given again at once when a file was removed, its hour of birth is not. */
export async function inodeOf(path: string): Promise<string> {
  const { ino, birthtimeMs } = await stat(path);
  return `${ino} born ${birthtimeMs}`;
}

/**
 * That the large file is at a destination what it is on the source, as POSIX' cmp finds in half the time of two digests.
 * @throws with what it says of the first byte that differs
 */
export async function expectSameBytes(destination: Destination, source: string): Promise<void> {
  await run('cmp', [storedAt(destination), join(source, 'CLIPS/long.mov')]);
}

/** Node's own SHA-256 of a file: another program than ours, and another algorithm. */
export async function sha256Of(path: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(path), hash);
  return hash.digest('hex');
}
