import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { mountImage, temporaryDestination, temporaryFolder, whyNoMounts } from '../media-files.test-support.ts';
import { createDestinationFolder } from './create-destination-folder.ts';
import { prepareDestination } from './marker.ts';

describe('a folder at a destination', () => {
  it('is made with what is missing above it, and left as it is when it is there', async () => {
    await using root = await temporaryDestination();
    const folder = join(root.path, '2026-03-01/records/rolls');
    await createDestinationFolder(root.path, folder);
    await createDestinationFolder(root.path, folder);
    expect((await stat(folder)).isDirectory()).toBe(true);
  });

  it('is not made where no destination is', async () => {
    await using root = await temporaryFolder();
    await expect(createDestinationFolder(root.path, join(root.path, 'a/b'))).rejects.toMatchObject({
      code: 'DESTINATION_NOT_MOUNTED',
      retry: 'destination',
    });
    expect(await readdir(root.path)).toEqual([]);
  });

  // What lies at the path is asked of the file system that is left there.
  it.skipIf(whyNoMounts !== null)(
    `is never made at the path of one that is unmounted in that very moment (${whyNoMounts ?? 'tried 60 times'})`,
    { timeout: 120_000 },
    async () => {
      await using mounted = await mountImage('ext4', 8);
      await prepareDestination(mounted.path, 'primary');
      for (let tries = 0; tries < 60; tries += 1) {
        const folder = join(mounted.path, `try-${tries}/a/b/c`);
        const made = createDestinationFolder(mounted.path, folder).catch((error: unknown) => error);
        await mounted.unmount(['--lazy']);
        await made;
        expect(await readdir(mounted.path)).toEqual([]);
        await mounted.mountAt(mounted.path);
      }
    },
  );
});
