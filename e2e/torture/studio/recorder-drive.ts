import { execFile } from 'node:child_process';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
import { BayDrive, type BayOrder } from '../../bay/bay-drive.ts';
import { digestsBelow } from '../../drives/digests-below.ts';
import { type Drive, type FileSystem, makeDrive } from '../../drives/make-drive.ts';
import { mountDrive, unmountDrive } from '../../drives/mount-drive.ts';

const run = promisify(execFile);

export interface Recording {
  readonly recorder: string;
  readonly fileSystem: FileSystem;
  /** Sizes in bytes by path; the content is random. */
  readonly files: Readonly<Record<string, number>>;
}

/** MD5 digests by path, made by md5sum when the drive was recorded or changed: what is true, whatever the service says. */
export type Footage = ReadonlyMap<string, string>;

/** A recorder's drive, in the bay or out of it, and what was on it when. */
export class RecorderDrive implements AsyncDisposable {
  readonly recorder: string;
  readonly #drive: Drive;
  readonly #folder: string;
  readonly #versions: { readonly sinceMs: number; readonly footage: Footage }[] = [];
  #insertions = 0;
  #slot: BayDrive | null = null;
  #insertedAtMs = 0;

  private constructor(recorder: string, drive: Drive, folder: string) {
    this.recorder = recorder;
    this.#drive = drive;
    this.#folder = folder;
  }

  /** Makes the drive in a folder of its own, with its files, and leaves it out of the bay. */
  static async record({ recorder, fileSystem, files }: Recording, folder: string): Promise<RecorderDrive> {
    await mkdir(folder, { recursive: true });
    const bytes = Object.values(files).reduce((sum, size) => sum + size, 0);
    const order = { image: join(folder, 'image'), fileSystem, label: recorder.toUpperCase() };
    // Room for what may be added, and for the journal.
    const drive = await makeDrive({ ...order, sizeInBytes: bytes + 24 * 2 ** 20 });
    const made = new RecorderDrive(recorder, drive, folder);
    await made.change(async (path) => {
      for (const [name, size] of Object.entries(files)) await layFile(join(path, name), size);
    });
    return made;
  }

  /** The drive in the bay. @throws Error when it is out. */
  get slot(): BayDrive {
    if (this.#slot === null) throw new Error(`The drive of ${this.recorder} is not in the bay.`);
    return this.#slot;
  }

  get isIn(): boolean {
    return this.#slot !== null;
  }

  /** When it was last put in, in milliseconds since 1970. A verdict from before is about an earlier visit. */
  get insertedAtMs(): number {
    return this.#insertedAtMs;
  }

  /** What is on it now. */
  get footage(): Footage {
    return this.#versions.at(-1)?.footage ?? new Map();
  }

  /** What was on it at that moment, in milliseconds since 1970. */
  footageAt(atMs: number): Footage {
    return this.#versions.findLast(({ sinceMs }) => sinceMs <= atMs)?.footage ?? new Map();
  }

  /** Every digest that a file on it ever had. */
  everyDigest(): readonly string[] {
    return this.#versions.flatMap(({ footage }) => [...footage.values()]);
  }

  /** When its content was last changed, in milliseconds since 1970. */
  get changedAtMs(): number {
    return this.#versions.at(-1)?.sinceMs ?? 0;
  }

  /** Changes what is on it while it is out of the bay, as a recorder would. */
  async change(work: (path: string) => Promise<void>): Promise<void> {
    const path = join(this.#folder, 'in the recorder');
    const mounted = await mountDrive(this.#drive, path);
    try {
      await work(path);
      this.#versions.push({ sinceMs: Date.now(), footage: await digestsBelow(path) });
    } finally {
      await unmountDrive(mounted);
    }
  }

  async insert(path: string, manner: BayOrder['manner'] = 'plain'): Promise<void> {
    if (this.#slot !== null) throw new Error(`The drive of ${this.recorder} is in the bay already.`);
    this.#insertions += 1;
    const folder = join(this.#folder, `insertion-${this.#insertions}`);
    this.#insertedAtMs = Date.now();
    this.#slot = await BayDrive.insert({ drive: this.#drive, path, folder, readOnly: true, manner });
  }

  /** As the switch does. It can be put in again when this returns. */
  async pull(): Promise<void> {
    const slot = this.#slot;
    this.#slot = null;
    await slot?.pull();
    await slot?.untilOut();
  }

  /** Its mount goes, while its power stays: who has a file open can read on. It can be put in again when this returns. */
  async unmountLazily(): Promise<void> {
    const slot = this.#slot;
    this.#slot = null;
    await slot?.unmountLazily();
    await slot?.untilOut();
  }

  async eject(): Promise<void> {
    const slot = this.#slot;
    this.#slot = null;
    await slot?.eject();
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.eject();
    await rm(this.#folder, { recursive: true, force: true });
  }
}

/** Lays a file of random bytes. */
export async function layFile(path: string, sizeInBytes: number): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  if (sizeInBytes === 0) return writeFile(path, '');
  const words = ['bs=1M', 'iflag=fullblock,count_bytes', `count=${sizeInBytes}`, 'status=none'];
  await run('dd', ['if=/dev/urandom', `of=${path}`, ...words]);
}
