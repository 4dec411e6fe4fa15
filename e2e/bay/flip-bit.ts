import { execFileSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { whereBytesLie } from './where-bytes-lie.ts';

const BLOCK = 4096;

/**
 * Flips one bit of a file on its device, below the file system: no time changes and nothing notices, as when a medium rots.
 * Gives the byte's place in the file. Only for ext4.
 */
export async function flipBit(path: string, device: string, { at }: { readonly at: number }): Promise<number> {
  const places = await whereBytesLie(path);
  let before = 0;
  for (const { position, lengthInBytes } of places) {
    if (at < before + lengthInBytes) {
      flipOnDevice(device, position + at - before);
      await dropCaches();
      return at;
    }
    before += lengthInBytes;
  }
  throw new Error(`Byte ${at} of ${path} lies nowhere on ${device}: ${JSON.stringify(places)}`);
}

/** Drops what the kernel holds of files in memory and that is on its medium already. Syncs nothing. */
export async function dropCaches(): Promise<void> {
  await writeFile('/proc/sys/vm/drop_caches', '3');
}

// Past the cache of the device, which knows nothing of what the file system writes. dd brings the aligned memory for it.
function flipOnDevice(device: string, position: number): void {
  const block = Math.floor(position / BLOCK);
  const bytes = execFileSync('dd', [
    `if=${device}`,
    `skip=${block}`,
    `bs=${BLOCK}`,
    'count=1',
    'iflag=direct',
    'status=none',
  ]);
  bytes.writeUInt8(bytes.readUInt8(position % BLOCK) ^ 1, position % BLOCK);
  const writing = [
    `of=${device}`,
    `seek=${block}`,
    `bs=${BLOCK}`,
    'count=1',
    'oflag=direct',
    'conv=notrunc,fsync',
    'status=none',
  ];
  execFileSync('dd', writing, { input: bytes });
}
