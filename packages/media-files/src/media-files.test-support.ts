// The linter opens tests outside their tsconfig and would not know Node there.
/// <reference types="node" />
import { execFile, execFileSync } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
import type { FileEntry, Mount } from '@quayside/shoot';
import type { CopyOutcome, CopyRequest, Destination, ReadBackOutcome, WorkControls } from '@quayside/step-sdk/built-in';
import { copyParcel } from './copy/copy-parcel.ts';
import { createDestinationMemory } from './destination/destination-memory.ts';
import { prepareDestination } from './destination/marker.ts';
import { listVolume } from './listing/list-volume.ts';
import { createLedgerReader } from './ledger/read-ledger.ts';
import { readBackParcel } from './read-back/read-back-parcel.ts';
import { deviceText } from './source/source-presence.ts';
import { createWorkbench } from './workbench/workbench.ts';

const run = promisify(execFile);

/** Why real file systems cannot be mounted here, or null. Shown in the titles of the tests that are skipped. */
export const whyNoMounts =
  process.getuid?.() !== 0
    ? 'mounting needs root'
    : !existsSync('/dev/loop-control')
      ? 'there are no loop devices'
      : null;

/** Whether a program is installed. */
export function hasTool(name: string): boolean {
  return ['/usr/local/bin', '/usr/bin', '/bin', '/usr/sbin', '/sbin'].some((folder) => existsSync(join(folder, name)));
}

export interface TestFolder {
  [Symbol.asyncDispose](): Promise<void>;
  readonly path: string;
}

export async function temporaryFolder(parent: string = tmpdir()): Promise<TestFolder> {
  const path = await mkdtemp(join(parent, 'quayside-media-files-'));
  return { path, [Symbol.asyncDispose]: () => rm(path, { recursive: true, force: true }) };
}

/** A temporary folder that is a destination. */
export async function temporaryDestination(): Promise<TestFolder> {
  const folder = await temporaryFolder();
  await prepareDestination(folder.path, 'primary');
  return folder;
}

export interface MountedImage {
  [Symbol.asyncDispose](): Promise<void>;
  readonly path: string;
  readonly image: string;
  unmount(options?: readonly string[]): Promise<void>;
  mountAt(path: string, options?: string): Promise<void>;
}

/** A fresh file system on an image file, mounted through a loop device. */
export async function mountImage(fileSystem: 'ext4' | 'exfat', sizeInMib: number): Promise<MountedImage> {
  const folder = await temporaryFolder();
  const image = join(folder.path, 'image');
  const path = join(folder.path, 'mounted');
  await mkdir(path);
  await run('truncate', ['-s', `${sizeInMib}M`, image]);
  if (fileSystem === 'ext4') await run('mkfs.ext4', ['-q', '-m', '0', '-E', 'lazy_itable_init=0', image]);
  else await run('mkfs.exfat', [image]);

  const loops: string[] = [];
  const mountAt = async (where: string, options = 'rw'): Promise<void> => {
    if (fileSystem === 'ext4') {
      await run('mount', ['-o', `loop,${options}`, image, where]);
      return;
    }
    const { stdout } = await run('losetup', ['-f', '--show', image]);
    loops.push(stdout.trim());
    await run('mount.exfat-fuse', ['-o', options, stdout.trim(), where]);
  };
  const places = [path];
  await mountAt(path);
  return {
    path,
    image,
    unmount: async (options = []) => void (await run('umount', [...options, path])),
    mountAt: async (where, options) => {
      await mountAt(where, options);
      places.push(where);
    },
    [Symbol.asyncDispose]: async () => {
      for (const place of places) await run('umount', ['-l', place]).catch(() => undefined);
      for (const loop of loops) await run('losetup', ['-d', loop]).catch(() => undefined);
      await folder[Symbol.asyncDispose]();
    },
  };
}

export async function mountOf(path: string): Promise<Mount> {
  return { path, mountId: 'test', device: deviceText((await stat(path)).dev) };
}

export async function destinationAt(root: string, name = 'primary'): Promise<Destination> {
  await mkdir(root, { recursive: true });
  const { id } = await prepareDestination(root, name);
  return { name, root, id };
}

/** Writes files; a number as content stands for so many random bytes. */
export async function writeTree(
  root: string,
  tree: Readonly<Record<string, string | number | Uint8Array>>,
): Promise<void> {
  for (const [path, content] of Object.entries(tree)) {
    await mkdir(dirname(join(root, path)), { recursive: true });
    await writeFile(join(root, path), typeof content === 'number' ? randomBytes(content) : content);
  }
}

export const ROLL = { id: 'wheel-1', folder: 'pottery/wheel/wheel-1' };

/** Controls that never stop, and count the bytes. */
export function calmControls(): WorkControls & { moved: number } {
  const controls = {
    signal: new AbortController().signal,
    moved: 0,
    onBytes: (bytes: number): void => {
      controls.moved += bytes;
    },
  };
  return controls;
}

export interface TestCopy {
  readonly source: string;
  readonly destinations: readonly Destination[];
  readonly files?: readonly FileEntry[];
  readonly controls?: WorkControls;
  readonly algorithms?: CopyRequest['algorithms'];
  readonly reads?: 'once' | 'twice';
}

export async function copyRequestFor({
  source,
  destinations,
  files,
  algorithms,
  reads = 'once',
}: TestCopy): Promise<CopyRequest> {
  const listed = files ?? (await listVolume(source, { litter: ['lost+found'] })).files;
  return {
    mount: await mountOf(source),
    roll: ROLL,
    files: listed,
    destinations,
    algorithms: algorithms ?? ['xxh128'],
    reads,
  };
}

/** Copies a folder as a volume, in this process. */
export async function copyHere(test: TestCopy): Promise<CopyOutcome[]> {
  const tools = { workbench: createWorkbench(), memory: createDestinationMemory() };
  return copyParcel(await copyRequestFor(test), test.controls ?? calmControls(), tools);
}

export async function readBackHere(
  destination: Destination,
  paths: readonly string[],
  controls: WorkControls = calmControls(),
): Promise<ReadBackOutcome[]> {
  const tools = { workbench: createWorkbench(), ledgerAt: createLedgerReader };
  return readBackParcel({ roll: ROLL, paths, destination }, controls, tools);
}

/** What an independent program prints first: a digest. */
export function digestByTool(tool: string, ...args: readonly string[]): string {
  const [first = ''] = execFileSync(tool, args, { encoding: 'utf8' }).split(/\s/);
  // GNU tools put a backslash before the digest of a file whose name they had to escape.
  return first.replace(/^\\/, '');
}
