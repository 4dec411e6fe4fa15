import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Drive } from '../drives/make-drive.ts';
import { mountDrive, type MountedDrive, unmountDrive } from '../drives/mount-drive.ts';
import { runTool } from '../drives/run-tool.ts';
import { type ImageOrder, type ServedImage, serveImage } from './serve-image.ts';
import { type ShownFile, showAsFile } from './show-as-file.ts';

export interface BayOrder extends Pick<ImageOrder, 'readOnly' | 'manner'> {
  readonly drive: Pick<Drive, 'image' | 'fileSystem'>;
  /** Where it is mounted. */
  readonly path: string;
  /** A folder of its own for what makes it work. It is gone when the drive is out. */
  readonly folder: string;
}

/**
 * A drive in the virtual bay: image -> nbdkit -> nbdfuse -> loop device with direct I/O -> mount. It can be slowed, made to
 * answer EIO, lose its power with all that was not flushed, and be pulled. Disposing of it takes it out, whatever its state.
 */
export class BayDrive implements AsyncDisposable {
  readonly path: string;
  /** The loop device: another one each time the drive is put in. */
  readonly device: string;
  readonly #parts: Parts;
  #out: Promise<void> | null = null;

  private constructor(parts: Parts) {
    this.#parts = parts;
    this.path = parts.mounted.path;
    this.device = parts.mounted.device;
  }

  /** Needs root, nbdkit, nbdfuse and /dev/fuse. @throws QuaysideError `BAY_TOOL_FAILED`, `DRIVE_TOOL_FAILED`; nothing is left then. */
  static async insert({ drive, path, folder, readOnly, manner }: BayOrder): Promise<BayDrive> {
    const served = await serveImage({ image: drive.image, folder, readOnly, manner });
    let shown: ShownFile | null = null;
    try {
      shown = await showAsFile(served.socket, join(folder, 'shown'), { readOnly });
      const mounted = await mountDrive({ ...drive, image: shown.path }, path, { readOnly, directIo: true });
      return new BayDrive({ folder, served, shown, mounted });
    } catch (error) {
      await shown?.hide();
      await served.end();
      await rm(folder, { recursive: true, force: true });
      throw error;
    }
  }

  /** Its switches: speed, failing reads and writes, a bad region. */
  get switches(): Omit<ServedImage, 'cut' | 'end' | 'socket'> {
    return this.#parts.served;
  }

  /** From now on it answers every request with EIO, and what it was given without a flush is lost. It stays mounted. */
  async cutPower(): Promise<void> {
    await this.#parts.served.cut();
  }

  /** Takes it out in order: its writes are finished and flushed first. */
  async eject(): Promise<void> {
    this.#out ??= takeOut(this.#parts);
    await this.#out;
  }

  /** As the switch does: power and mount are gone at once, whoever is using it. What held it open may do so for a while. */
  async pull(): Promise<void> {
    await this.cutPower();
    await unmountOver(this.path);
    this.#out ??= takeOut(this.#parts);
  }

  /** The mount goes from one moment to the next, but those who have files open can go on with them. */
  async unmountLazily(): Promise<void> {
    await unmountOver(this.path);
    this.#out ??= takeOut(this.#parts);
  }

  /** Settles when nothing of it is left: no mount, no loop device, no process. Take it out first. */
  async untilOut(): Promise<void> {
    await this.#out;
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.eject();
  }
}

interface Parts {
  readonly folder: string;
  readonly served: ServedImage;
  readonly shown: ShownFile;
  readonly mounted: MountedDrive;
}

async function takeOut({ folder, served, shown, mounted }: Parts): Promise<void> {
  await unmountDrive(mounted);
  await shown.hide();
  await served.end();
  await rm(folder, { recursive: true, force: true });
}

async function unmountOver(path: string): Promise<void> {
  await runTool('umount', '--lazy', path).catch((error: unknown) => {
    if (!String(error).includes('not mounted')) throw error;
  });
}
