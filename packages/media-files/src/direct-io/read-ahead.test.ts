import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { alignedLength } from './aligned-memory.ts';
import { createBufferShelf } from './buffer-shelf.ts';
import { type ReadAt, readAhead } from './read-ahead.ts';

function contentOf(length: number): Uint8Array {
  return Uint8Array.from({ length }, (_, index) => (index * 31 + (index >> 8)) & 0xff);
}

/** Reads like a file, but gives at most `most` bytes at once, in whole blocks as direct I/O does. */
function readerOf(content: Uint8Array, most: number): ReadAt {
  return async (bytes, position) => {
    expect(position % 4096).toBe(0);
    expect(bytes.length % 4096).toBe(0);
    const end = Math.min(position + Math.min(bytes.length, most), content.length);
    bytes.set(content.subarray(position, end));
    return Math.max(0, end - position);
  };
}

async function readAll(readAt: ReadAt, sizeInBytes: number, depth = 3): Promise<Buffer> {
  const pieces: Buffer[] = [];
  const shelf = createBufferShelf(16_384, 4);
  for await (const chunk of readAhead(readAt, { sizeInBytes, shelf, depth })) {
    pieces.push(Buffer.from(chunk.bytes));
    chunk.release();
  }
  // Every buffer is back: all four can be taken at once.
  await Promise.all([shelf.take(), shelf.take(), shelf.take(), shelf.take()]);
  return Buffer.concat(pieces);
}

it('gives every byte once and in order, whatever the size, with short reads too', async () => {
  await fc.assert(
    fc.asyncProperty(fc.nat(100_000), fc.integer({ min: 1, max: 5 }), async (size, blocks) => {
      const content = contentOf(size);
      expect((await readAll(readerOf(content, blocks * 4096), size)).equals(content)).toBe(true);
    }),
    { numRuns: 50 },
  );
});

it('ends early when the file does, and gives what there was', async () => {
  const content = contentOf(40_000);
  expect((await readAll(readerOf(content, 1 << 20), 90_000)).equals(content)).toBe(true);
});

const brokenAfterStart: ReadAt = async (bytes, position) => {
  if (position > 0) throw new Error('broken');
  return bytes.length;
};

it('passes a read error on and keeps no buffer', async () => {
  const shelf = createBufferShelf(16_384, 2);
  const reading = async (): Promise<void> => {
    for await (const chunk of readAhead(brokenAfterStart, { sizeInBytes: 100_000, shelf, depth: 2 })) chunk.release();
  };
  await expect(reading()).rejects.toThrow('broken');
  await Promise.all([shelf.take(), shelf.take()]);
});

it('never holds more buffers than the shelf has, however large the file', async () => {
  const shelf = createBufferShelf(4096, 3);
  let out = 0;
  let most = 0;
  const counting = {
    ...shelf,
    take: async () => {
      const buffer = await shelf.take();
      out += 1;
      most = Math.max(most, out);
      return buffer;
    },
    giveBack: (buffer: Uint8Array) => {
      out -= 1;
      shelf.giveBack(buffer);
    },
  };
  const sizeInBytes = alignedLength(4096 * 500);
  for await (const chunk of readAhead(async (bytes) => bytes.length, { sizeInBytes, shelf: counting, depth: 8 })) {
    setImmediate(chunk.release);
  }
  expect(most).toBe(3);
});
