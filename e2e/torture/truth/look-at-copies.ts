import { execFile } from 'node:child_process';
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { dropCaches } from '../../bay/flip-bit.ts';
import { digestsBelow } from '../../drives/digests-below.ts';
import type { LastingDrive } from '../studio/lasting-drive.ts';
import { readManifests } from './read-manifests.ts';

const run = promisify(execFile);

/** What really lies at one destination of a roll. */
export interface LookedAt {
  readonly destination: string;
  /** MD5 by stored path, made by md5sum. */
  readonly stored: ReadonlyMap<string, string>;
  /** The stored paths that a manifest lists with the digest that xxhsum makes of them now. */
  readonly proven: ReadonlySet<string>;
  readonly faults: readonly string[];
}

export interface RollPlace {
  readonly id: string;
  readonly shootId: string;
  readonly recorder: string;
}

/**
 * Looks at a roll's copies on the media with md5sum and xxhsum, after the kernel has forgotten what it held of them. A
 * destination that is not mounted at its root has nothing: what lies at that path is on another device.
 */
export async function lookAtCopies(roll: RollPlace, drive: LastingDrive): Promise<LookedAt> {
  const destination = drive.name;
  const nothing = { destination, stored: new Map<string, string>(), proven: new Set<string>() };
  if (!(await drive.isMountedAtRoot())) return { ...nothing, faults: [`${destination} is not mounted`] };
  const folder = join(drive.root, roll.shootId, roll.recorder, roll.id);
  const isThere = await stat(folder).then(
    (found) => found.isDirectory(),
    () => false,
  );
  if (!isThere) return { ...nothing, faults: [`${destination} has no folder of the roll`] };
  await dropCaches();
  const stored = await digestsBelow(folder);
  const listed = await readManifests(folder);
  const digests = await xxh128Of(folder, [...stored.keys()]);
  const proven = new Set(
    [...listed.files].flatMap(([path, record]) =>
      record !== null && digests.get(path) === record.xxh128 ? [path] : [],
    ),
  );
  return { destination, stored, proven, faults: listed.faults.map((fault) => `${destination}: ${fault}`) };
}

/** By xxhsum, the xxHash project's own tool. */
async function xxh128Of(folder: string, paths: readonly string[]): Promise<ReadonlyMap<string, string>> {
  if (paths.length === 0) return new Map();
  const { stdout } = await run('xxhsum', ['-q', '-H2', '--', ...paths], { cwd: folder, maxBuffer: 2 ** 26 });
  return new Map(
    stdout
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => [line.slice(line.indexOf('  ') + 2), line.slice(0, line.indexOf('  '))]),
  );
}
