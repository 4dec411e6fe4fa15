import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { listVolume, type Mover, prepareDestination, startMover } from '@quayside/media-files';
import { advance, type ClearancePolicy, judgeClearance } from '@quayside/pipeline';
import { type Clearance, deviceNumber, type Mount, type Roll, rollFolder } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { presentVolumes } from '@quayside/volumes';
import { sealRoll } from '../sealing/seal-roll.ts';
import { gatherEvidence } from './gather-evidence.ts';

const NEVER = { signal: new AbortController().signal, onBytes: () => undefined };
const STRICT: ClearancePolicy = { copies: 2, sameDevice: 'hold', cachedReadBack: 'hold' };

/** Why no drives can be made of images here, or the empty string. It stands in the titles of the tests that are then left out. */
export const cannotMount =
  process.platform === 'linux' && process.getuid?.() === 0 ? '' : ' (left out: needs root on Linux)';

/** A roll on its way from a drive to its verdict, step by step, over real files. Disposing unmounts all that was mounted. */
export class RollOnMedia implements AsyncDisposable {
  readonly folder = mkdtempSync(join(tmpdir(), 'quayside-evidence-'));
  readonly #mover: Mover = startMover();
  /** What must be undone, the last first: an image can lie on a mount. */
  readonly #undo: (readonly [name: string, command: string, ...args: string[]])[] = [];
  #destinations: Destination[] = [];
  #roll: Roll | null = null;

  at(...parts: readonly string[]): string {
    return join(this.folder, ...parts);
  }

  write(path: string, content: string): void {
    mkdirSync(dirname(this.at(path)), { recursive: true });
    writeFileSync(this.at(path), content);
  }

  /** Mounts a fresh file system of an image of its own, and gives its device. */
  mountImage(name: string, make: readonly string[] = ['mkfs.ext4', '-q', '-F'], mebibytes = 32): string {
    const image = this.at(`${name.replaceAll('/', '-')}.image`);
    writeFileSync(image, '');
    truncateSync(image, mebibytes * 1024 * 1024);
    const device = this.attach(image);
    const [command = '', ...args] = make;
    run(command, ...args, device);
    this.mount(device, name);
    return device;
  }

  attach(image: string, ...options: readonly string[]): string {
    const device = run('losetup', '-f', '--show', ...options, image).trim();
    this.#undo.push([device, 'losetup', '-d', device]);
    return device;
  }

  mount(what: string, name: string, ...options: readonly string[]): void {
    mkdirSync(this.at(name), { recursive: true });
    run('mount', ...options, what, this.at(name));
    this.#undo.push([name, 'umount', this.at(name)]);
  }

  unmount(name: string): void {
    run('umount', this.at(name));
    this.#undo.splice(
      this.#undo.findIndex(([undone]) => undone === name),
      1,
    );
  }

  /** One disk of two partitions, not formatted yet; gives their devices. */
  partitionedDisk(): readonly string[] {
    const image = this.at('disk.image');
    // Master boot record: two primary partitions of type 0x83, by start and length in sectors of 512 bytes.
    const record = Buffer.alloc(512);
    for (const [index, start] of [2048, 65_536].entries()) {
      record.writeUInt8(0x83, 446 + index * 16 + 4);
      record.writeUInt32LE(start, 446 + index * 16 + 8);
      record.writeUInt32LE(60_000, 446 + index * 16 + 12);
    }
    record.writeUInt16BE(0x55aa, 510);
    writeFileSync(image, record);
    truncateSync(image, 64 * 2 ** 20);
    const disk = this.attach(image, '-P');
    // Some kernels cannot read partition tables themselves; partx reads it for them.
    if (!existsSync(`${disk}p1`)) run('partx', '-a', disk);
    return [`${disk}p1`, `${disk}p2`];
  }

  /** Takes what lies on the drive to the destinations, proves it there and seals it. */
  async prove(drive: string, destinations: readonly string[]): Promise<void> {
    await this.copy(drive, destinations);
    await this.readBack();
    await this.seal();
  }

  async copy(drive: string, destinations: readonly string[]): Promise<void> {
    this.#destinations = [];
    for (const name of destinations) {
      mkdirSync(this.at(name), { recursive: true });
      const { id } = await prepareDestination(this.at(name), name);
      this.#destinations.push({ name, root: this.at(name), id });
    }
    const { files } = await listVolume(this.at(drive), { litter: [] });
    this.#roll = openRoll(await this.#mountOf(drive), destinations);
    const roll = { id: this.roll().id, folder: rollFolder(this.roll()) };
    const mount = this.roll().mount ?? { path: '', mountId: '', device: '' };
    await this.#mover.copy({ mount, roll, files, destinations: this.#destinations, algorithms: ['xxh128'] }, NEVER);
  }

  async readBack(): Promise<void> {
    const roll = { id: this.roll().id, folder: rollFolder(this.roll()) };
    const paths = (await this.#files()).map(({ path }) => path);
    for (const destination of this.#destinations) await this.#mover.readBack({ roll, paths, destination }, NEVER);
  }

  async seal(): Promise<void> {
    const files = await this.#files();
    for (const destination of this.#destinations)
      await sealRoll({ roll: this.roll(), files, destination, now: new Date().toISOString() });
  }

  async judge(policy: Partial<ClearancePolicy> = {}, litter: readonly string[] = []): Promise<Clearance> {
    const found = this.#destinations.map((destination) => ({ destination, failure: null }));
    const evidence = await gatherEvidence(this.roll(), { found, litter, filesWhenClear: null });
    return judgeClearance(evidence, { ...STRICT, ...policy }, new Date().toISOString());
  }

  stored(destination: string, path: string): string {
    return this.at(destination, rollFolder(this.roll()), path);
  }

  roll(): Roll {
    if (this.#roll === null) throw new Error('Nothing was copied yet');
    return this.#roll;
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.#mover.close();
    for (const [, command, ...args] of this.#undo.toReversed()) run(command, ...args);
    rmSync(this.folder, { recursive: true, force: true });
  }

  async #files(): ReturnType<typeof listVolume> extends Promise<{ files: infer Files }> ? Promise<Files> : never {
    return (await listVolume(this.roll().mount?.path ?? '', { litter: [] })).files;
  }

  /** As the watcher has it for a drive; a plain folder stands for one where nothing is mounted. */
  async #mountOf(drive: string): Promise<Mount> {
    const path = this.at(drive);
    const volume = (await presentVolumes({ roots: [this.folder], folders: false })).find(
      ({ mount }) => mount.path === path,
    );
    if (volume !== undefined) return volume.mount;
    const { ino, dev } = statSync(path, { bigint: true });
    return { path, mountId: `folder:${ino}`, device: deviceNumber(dev, process.platform) };
  }
}

/** The reasons against a verdict by their codes; none for `clear`. */
export function codesOf(clearance: Clearance): readonly string[] {
  return clearance.verdict === 'clear' ? [] : clearance.reasons.map(({ code }) => code);
}

export function run(command: string, ...args: readonly string[]): string {
  return execFileSync(command, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
}

function openRoll(mount: Mount, destinations: readonly string[]): Roll {
  const isFolder = mount.mountId.startsWith('folder:');
  return advance(
    null,
    {
      type: 'listed',
      roll: {
        id: 'wheel-20261125-abc123',
        shootId: '2026-11-25',
        recorder: 'wheel',
        role: 'camera',
        volume: {
          key: 'v1',
          basis: isFolder ? 'folder' : 'uuid',
          uuid: '1A2B-3C4D',
          serial: null,
          label: 'WHEEL',
          fileSystem: isFolder ? 'folder' : 'ext4',
          sizeInBytes: 1000,
        },
        mount,
        fingerprint: 'f1',
        litterCount: 0,
        facts: 'read',
        parcels: [{ firstPath: '', fileCount: 1, sizeInBytes: 1 }],
        destinations: Object.fromEntries(destinations.map((name) => [name, null])),
        findings: [],
      },
    },
    new Date().toISOString(),
  );
}
