import { execFile } from 'node:child_process';
import { cp, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
export { digestsBelow } from '../drives/digests-below.ts';
import { makeDrive, type FileSystem } from '../drives/make-drive.ts';
import { mountDrive, unmountDrive, type MountedDrive } from '../drives/mount-drive.ts';
import { shareCompiledCode } from '../service/share-compiled-code.ts';
import { Service, type ShownRoll } from '../service/start-service.ts';

const run = promisify(execFile);

export interface DriveWish {
  readonly recorder: string;
  readonly fileSystem?: FileSystem;
  readonly sizeInBytes?: number;
  /** Files to lay out: path to content, or to a number of pseudo-random bytes. */
  readonly files?: Readonly<Record<string, string | number>>;
  /** A folder to lay out instead. */
  readonly from?: string;
}

/** A studio for one test: source drives in a bay, two destination drives, and the service on them. */
export class Studio {
  readonly folder: string;
  readonly #drives = new Map<string, MountedDrive>();
  #service: Service | null = null;

  private constructor(folder: string) {
    this.folder = folder;
  }

  static async open(): Promise<Studio> {
    return new Studio(await mkdtemp(join(tmpdir(), 'quayside-studio-')));
  }

  get bay(): string {
    return join(this.folder, 'bay');
  }

  destination(name: string): string {
    return join(this.folder, 'destinations', name);
  }

  source(recorder: string): string {
    return join(this.bay, recorder);
  }

  get service(): Service {
    if (this.#service === null) throw new Error('The service has not been started.');
    return this.#service;
  }

  /** Makes a recorder's drive with its files, but leaves it out of the bay. */
  async record({ recorder, fileSystem = 'ext4', sizeInBytes = 2 ** 28, files = {}, from }: DriveWish): Promise<void> {
    const image = join(this.folder, `${recorder}.image`);
    const drive = await makeDrive({ image, fileSystem, label: recorder.toUpperCase(), sizeInBytes });
    const mounted = await mountDrive(drive, join(this.folder, 'recording', recorder));
    if (from !== undefined) await cp(from, mounted.path, { recursive: true, preserveTimestamps: true });
    for (const [path, content] of Object.entries(files)) await lay(join(mounted.path, path), content);
    await unmountDrive(mounted);
    this.#drives.set(recorder, mounted);
  }

  async plug(
    recorder: string,
    { at = this.source(recorder), readOnly = true }: { readonly at?: string; readonly readOnly?: boolean } = {},
  ): Promise<MountedDrive> {
    const known = this.#drives.get(recorder);
    if (known === undefined) throw new Error(`No drive was made for ${recorder}.`);
    const mounted = await mountDrive(known.drive, at, { readOnly });
    this.#drives.set(recorder, mounted);
    return mounted;
  }

  /** As the switch does: the mount is gone from one moment to the next, whoever is reading. */
  async pull(recorder: string): Promise<void> {
    const known = this.#drives.get(recorder);
    if (known !== undefined) await run('umount', ['--lazy', known.path]);
  }

  async addDestination(name: string, sizeInBytes = 2 ** 30): Promise<string> {
    const image = join(this.folder, `destination-${name}.image`);
    const drive = await makeDrive({ image, fileSystem: 'ext4', label: name.toUpperCase(), sizeInBytes });
    const mounted = await mountDrive(drive, this.destination(name));
    this.#drives.set(`destination ${name}`, mounted);
    return mounted.path;
  }

  async start(change: Readonly<Record<string, unknown>> = {}): Promise<Service> {
    await mkdir(this.bay, { recursive: true });
    if (this.#service === null) await shareCompiledCode(join(this.folder, 'data'));
    this.#service = await Service.start({
      folder: this.folder,
      configuration: {
        watch: { roots: [this.bay], settleSeconds: 0.3, relistSeconds: 1 },
        recorders: Object.fromEntries(
          ['wheel', 'hands', 'wide', 'kiln', 'desk'].map((name) => [
            name,
            { role: name === 'desk' ? 'sound' : 'camera', match: [{ label: name.toUpperCase() }] },
          ]),
        ),
        destinations: ['primary', 'backup'].map((name) => ({ name, path: this.destination(name), keepFreeBytes: 0 })),
        ...change,
      },
    });
    return this.#service;
  }

  async rollsOf(recorder: string): Promise<readonly ShownRoll[]> {
    return (await this.service.rolls()).filter((roll) => roll.recorder === recorder);
  }

  /** Waits until a recorder has so many rolls and none of them is at work. */
  async restingRolls(recorder: string, count: number): Promise<readonly ShownRoll[]> {
    return this.service.until(`${count} rolls of ${recorder} have their verdict`, async () => {
      const rolls = await this.rollsOf(recorder);
      return rolls.length === count && rolls.every(({ activity }) => activity === 'resting') ? rolls : null;
    });
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.#service?.stop();
    for (const mounted of this.#drives.values()) await unmountDrive(mounted);
    // A process that was killed may still be writing its last file.
    await rm(this.folder, { recursive: true, force: true, maxRetries: 20, retryDelay: 100 });
  }
}

async function lay(path: string, content: string | number): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  if (typeof content === 'string') await writeFile(path, content);
  else
    await run('dd', [
      'if=/dev/urandom',
      `of=${path}`,
      'bs=1M',
      'iflag=fullblock,count_bytes',
      `count=${content}`,
      'status=none',
    ]);
}
