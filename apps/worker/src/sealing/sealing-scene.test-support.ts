// The linter opens tests outside their tsconfig and would not know Node there.
/// <reference types="node" />
import { mkdir, mkdtemp, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { listVolume, type Mover, prepareDestination, startMover } from '@quayside/media-files';
import { advance } from '@quayside/pipeline';
import { deviceNumber, type FileEntry, type Instant, type Mount, type Roll, rollFolder } from '@quayside/shoot';
import type { CopyOutcome, Destination, ReadBackOutcome } from '@quayside/step-sdk/built-in';
import { sealRoll } from './seal-roll.ts';

const NEVER = { signal: new AbortController().signal, onBytes: () => undefined };
export const PATHS = ['CLIPS/a.mov', 'CLIPS/b.mov'];

/** A roll of two files on a drive, and one destination: plain folders, and a real mover between them. */
export class SealingScene implements AsyncDisposable {
  readonly drive: string;
  readonly destination: Destination;
  readonly files: readonly FileEntry[];
  readonly roll: Roll;
  readonly mover: Mover = startMover();
  readonly #folder: string;
  readonly #mount: Mount;

  private constructor(parts: { folder: string; destination: Destination; files: readonly FileEntry[]; mount: Mount }) {
    this.#folder = parts.folder;
    this.drive = parts.mount.path;
    this.destination = parts.destination;
    this.files = parts.files;
    this.#mount = parts.mount;
    this.roll = openRoll(parts.mount);
  }

  static async open(): Promise<SealingScene> {
    const folder = await mkdtemp(join(tmpdir(), 'quayside-sealing-'));
    const [drive, root] = [join(folder, 'drive'), join(folder, 'primary')];
    await mkdir(join(drive, 'CLIPS'), { recursive: true });
    await writeFile(join(drive, 'CLIPS/a.mov'), 'first take');
    await writeFile(join(drive, 'CLIPS/b.mov'), 'second take');
    await mkdir(root);
    const { id } = await prepareDestination(root, 'primary');
    const { files } = await listVolume(drive, { litter: [] });
    const device = deviceNumber((await stat(folder)).dev, process.platform);
    const mount = { path: drive, mountId: '1', device };
    return new SealingScene({ folder, destination: { name: 'primary', root, id }, files, mount });
  }

  get place(): { readonly id: string; readonly folder: string } {
    return { id: this.roll.id, folder: rollFolder(this.roll) };
  }

  /** Where the roll lies at the destination. */
  get rollRoot(): string {
    return join(this.destination.root, rollFolder(this.roll));
  }

  async copy(): Promise<readonly CopyOutcome[]> {
    const { place, files, destination } = this;
    return this.mover.copy(
      { mount: this.#mount, roll: place, files, destinations: [destination], algorithms: ['md5'] },
      NEVER,
    );
  }

  /** Reads copies back: all of them, or those that have not been read since. */
  async readBack({ paths = PATHS, notSince }: { paths?: readonly string[]; notSince?: Instant } = {}): Promise<
    readonly ReadBackOutcome[]
  > {
    const request = { roll: this.place, paths, destination: this.destination };
    return this.mover.readBack(notSince === undefined ? request : { ...request, notSince }, NEVER);
  }

  /** Seals what is proven of these files, those of the drive by default, and gives the generation. */
  async seal(files = this.files): Promise<number> {
    const { roll, destination } = this;
    return (await sealRoll({ roll, files, destination, now: new Date().toISOString() })).generation;
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.mover.close();
    await rm(this.#folder, { recursive: true, force: true });
  }
}

function openRoll(mount: Mount): Roll {
  const identity = { key: 'v1', basis: 'uuid', uuid: '1A2B-3C4D', serial: null, label: 'WHEEL' } as const;
  const about = { id: 'wheel-20261125-abc123', shootId: '2026-11-25', recorder: 'wheel', role: 'camera' } as const;
  const parcels = [{ firstPath: 'CLIPS/a.mov', fileCount: 2, sizeInBytes: 21 }];
  const volume = { ...identity, fileSystem: 'exfat', sizeInBytes: 1000 };
  const found = { fingerprint: 'f1', litterCount: 0, facts: 'read', findings: [] } as const;
  const listed = { ...about, ...found, volume, mount, parcels, destinations: { primary: null } };
  return advance(null, { type: 'listed', roll: listed }, new Date().toISOString());
}
