import { open, rm } from 'node:fs/promises';
import { runTool } from './run-tool.ts';

export type FileSystem = 'ext4' | 'exfat';

export interface DriveOrder {
  /** Path of the image file to make. */
  readonly image: string;
  readonly fileSystem: FileSystem;
  /** At most 11 characters on exFAT and 16 on ext4. */
  readonly label: string;
  /** Takes no space until it is filled. ext4 wants at least 1 MiB, exFAT 4 MiB. */
  readonly sizeInBytes: number;
}

/** A drive in a drawer: an image with a file system. Disposing of it deletes the image; unmount it first. */
export interface Drive extends AsyncDisposable {
  readonly image: string;
  readonly fileSystem: FileSystem;
  readonly label: string;
}

/**
 * Makes a freshly formatted drive. The same name again is a new drive with a new UUID, as after a format.
 * @throws QuaysideError `DRIVE_TOOL_FAILED`; no image is left then.
 */
export async function makeDrive({ image, fileSystem, label, sizeInBytes }: DriveOrder): Promise<Drive> {
  const remove = (): Promise<void> => rm(image, { force: true });
  try {
    const file = await open(image, 'w');
    await file.truncate(sizeInBytes).finally(() => file.close());
    // Without reserved blocks and with all tables written at once: nothing is written to the drive behind a test's back.
    if (fileSystem === 'ext4')
      await runTool(
        'mkfs.ext4',
        '-q',
        '-F',
        '-m',
        '0',
        '-E',
        'lazy_itable_init=0,lazy_journal_init=0',
        '-L',
        label,
        image,
      );
    else await runTool('mkfs.exfat', '-L', label, image);
  } catch (error) {
    await remove();
    throw error;
  }
  return { image, fileSystem, label, [Symbol.asyncDispose]: remove };
}
