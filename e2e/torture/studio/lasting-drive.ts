import { execFile } from 'node:child_process';
import { readdir, rm, stat, statfs } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { BayDrive } from '../../bay/bay-drive.ts';
import { type Drive, makeDrive } from '../../drives/make-drive.ts';
import { TOOL_FOLDERS } from '../../drives/run-tool.ts';

const run = promisify(execFile);

export interface LastingOrder {
  readonly name: string;
  /** Where it is mounted. */
  readonly root: string;
  /** For its image and what makes it work. */
  readonly folder: string;
  readonly sizeInBytes: number;
}

/** A drive that the service writes to: a destination, or the one with its data. It keeps writes to itself until a flush. */
export class LastingDrive implements AsyncDisposable {
  readonly name: string;
  readonly root: string;
  readonly #drive: Drive;
  readonly #folder: string;
  readonly #strays: string[] = [];
  #insertions = 0;
  #slot: BayDrive | null = null;

  private constructor({ name, root, folder }: LastingOrder, drive: Drive) {
    this.name = name;
    this.root = root;
    this.#folder = folder;
    this.#drive = drive;
  }

  /** Makes it and puts it in. */
  static async make(order: LastingOrder): Promise<LastingDrive> {
    const image = join(order.folder, `${order.name}.image`);
    const label = order.name.toUpperCase();
    const drive = await makeDrive({ image, fileSystem: 'ext4', label, sizeInBytes: order.sizeInBytes });
    const made = new LastingDrive(order, drive);
    await made.insert();
    return made;
  }

  get slot(): BayDrive {
    if (this.#slot === null) throw new Error(`${this.name} is not in the bay.`);
    return this.#slot;
  }

  get isIn(): boolean {
    return this.#slot !== null;
  }

  async insert(): Promise<void> {
    if (this.#slot !== null) return;
    await this.noteStrays();
    this.#insertions += 1;
    const folder = join(this.#folder, `${this.name}-${this.#insertions}`);
    const manner = 'keeps writes until a flush';
    this.#slot = await BayDrive.insert({ drive: this.#drive, path: this.root, folder, readOnly: false, manner });
  }

  /** Its power is gone, and with it what it was not told to flush; then its mount goes. */
  async pull(): Promise<void> {
    const slot = this.#slot;
    this.#slot = null;
    await slot?.pull();
    await slot?.untilOut();
  }

  /** Puts it in again after it was pulled; its file system is mended first, as a system does at its start. */
  async comeBack(): Promise<void> {
    await mendFileSystem(this.#drive.image);
    await this.insert();
  }

  /** Notes, and takes away, what was written at its path while it was not mounted there: nothing ever should be. */
  async noteStrays(): Promise<void> {
    for (const name of await readdir(this.root).catch(() => [])) {
      this.#strays.push(`${name} was written at the path of ${this.name} while it was not mounted`);
      await rm(join(this.root, name), { recursive: true, force: true });
    }
  }

  /** What was noted since the last call. */
  takeStrays(): readonly string[] {
    return this.#strays.splice(0);
  }

  /** Whether what is mounted at its root now is this drive. */
  async isMountedAtRoot(): Promise<boolean> {
    if (this.#slot === null) return false;
    const [root, device] = await Promise.all([
      stat(this.root).catch(() => null),
      stat(this.slot.device).catch(() => null),
    ]);
    return root !== null && device !== null && root.dev === device.rdev;
  }

  async freeBytes(): Promise<number> {
    const { bavail, bsize } = await statfs(this.root);
    return bavail * bsize;
  }

  async [Symbol.asyncDispose](): Promise<void> {
    const slot = this.#slot;
    this.#slot = null;
    await slot?.eject();
    await rm(this.#drive.image, { force: true });
  }
}

async function mendFileSystem(image: string): Promise<void> {
  await run('e2fsck', ['-p', image], { env: { PATH: TOOL_FOLDERS } }).catch((error: { readonly code?: unknown }) => {
    // e2fsck(8): 1 and 2 mean that errors were corrected.
    if (error.code !== 1 && error.code !== 2) throw error;
  });
}
