import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { chmod, copyFile, mkdir, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { Clip, MediaFacts } from '@quayside/shoot';
import { factsOfFile } from './facts-of-file.ts';
import { TrialError } from './trial-error.ts';

/** A file to try a step on. */
export interface TrialClip {
  readonly file: string;
  /** Lower-case letters, digits and hyphens; `wheel` by default. The clips of one recorder lie on one roll. */
  readonly recorder?: string;
  /** By default `camera` for what has a picture, else `sound`. */
  readonly role?: Clip['role'];
  /** By default they are read from the file with ffprobe. */
  readonly facts?: MediaFacts;
}

export interface LaidCopy {
  readonly clip: Clip;
  readonly path: string;
  readonly digest: string;
}

/** Lays copies of the files into a folder as they lie at a destination: by roll. The files themselves are only read. */
export async function layCopies(clips: readonly TrialClip[], folder: string): Promise<readonly LaidCopy[]> {
  const laid: LaidCopy[] = [];
  for (const { file, recorder = 'wheel', role, facts: given } of clips) {
    const facts = given ?? (await factsOfFile(file));
    const rollId = `${recorder}-001`;
    const id = `${rollId}/${basename(file)}`;
    if (laid.some(({ clip }) => clip.id === id))
      throw new TrialError(
        `Two clips of recorder "${recorder}" are called ${basename(file)}: give one another recorder.`,
      );
    const path = join(folder, rollId, basename(file));
    await mkdir(join(folder, rollId), { recursive: true });
    await copyFile(file, path);
    await chmod(path, 0o444);
    const { size, mtime } = await stat(file);
    const clip = {
      id,
      rollId,
      path: basename(file),
      recorder,
      role: role ?? (facts.kind === 'sound' ? 'sound' : 'camera'),
      sizeInBytes: size,
      modifiedAt: mtime.toISOString(),
      facts,
    } as const;
    laid.push({ clip, path, digest: await digestOf(path) });
  }
  return laid;
}

/** @throws TrialError when a copy is gone or has another content than when it was laid */
export async function throwIfCopiesChanged(copies: readonly LaidCopy[]): Promise<void> {
  for (const { path, digest, clip } of copies) {
    const now = await digestOf(path).catch(() => null);
    if (now !== digest)
      throw new TrialError(`The step changed the verified copy of ${clip.path}. A step reads copies only.`);
  }
}

async function digestOf(path: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(path), hash);
  return hash.digest('hex');
}
