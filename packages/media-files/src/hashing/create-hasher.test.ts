import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Digests, HashAlgorithm } from '@quayside/shoot';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { digestByTool, hasTool, temporaryFolder } from '../media-files.test-support.ts';
import { allocateAligned } from '../direct-io/aligned-memory.ts';
import { c4FromSha512 } from './c4.ts';
import { createHasher, createSteppingHasher, type HasherOptions } from './create-hasher.ts';
import { createNativeXxHash } from './native-xxhash.ts';

async function digest(
  algorithm: HashAlgorithm,
  data: string | Uint8Array,
  options: HasherOptions = {},
): Promise<string | undefined> {
  const hasher = await createHasher([algorithm], options);
  hasher.update(typeof data === 'string' ? Buffer.from(data) : data);
  return hasher.digests()[algorithm];
}

const whyNoAddon = (await createNativeXxHash('xxh128')) === null ? 'no build of xxhash-addon for this system' : null;
/** Both implementations of the xxHash family; without an addon both are the one. */
const IMPLEMENTATIONS = [{ isNative: true }, { isNative: false }] as const;

/** The test buffer of the xxHash project's cli/xsum_sanity_check.c. */
function sanityBuffer(length: number): Uint8Array {
  const bytes = new Uint8Array(length);
  let generator = 2654435761n;
  for (let index = 0; index < length; index += 1) {
    bytes[index] = Number(generator >> 56n);
    generator = BigInt.asUintN(64, generator * 11400714785074694797n);
  }
  return bytes;
}

it.skipIf(whyNoAddon !== null)(
  `the xxHash project's own code is used${whyNoAddon === null ? '' : ` (skipped: ${whyNoAddon})`}`,
  async () => {
    for (const algorithm of ['xxh128', 'xxh3', 'xxh64'] as const)
      expect(await createNativeXxHash(algorithm)).not.toBeNull();
  },
);

it.skipIf(whyNoAddon !== null)('an addon that gives other digests than the published ones is not used', async () => {
  const real = (await import('xxhash-addon')).default;
  const confused = { XXHash128: real.XXHash3, XXHash3: real.XXHash64, XXHash64: real.XXHash128 };
  for (const algorithm of ['xxh128', 'xxh3', 'xxh64'] as const) {
    expect(await createNativeXxHash(algorithm, () => Promise.resolve(confused))).toBeNull();
    expect(await createNativeXxHash(algorithm, () => Promise.reject(new Error('no build')))).toBeNull();
  }
});

describe('published vectors', () => {
  // The xxHash project, cli/xsum_sanity_check.c @08ae025: seed 0, canonical big-endian text.
  it.each([
    ['xxh64', 0, 'ef46db3751d8e999'],
    ['xxh64', 1, 'e934a84adb052768'],
    ['xxh64', 4, '9136a0dca57457ee'],
    ['xxh64', 14, '8282dcc4994e35c8'],
    ['xxh64', 222, 'b641ae8cb691c174'],
    ['xxh3', 0, '2d06800538d394c2'],
    ['xxh3', 1, 'c44bdff4074eecdb'],
    ['xxh3', 6, '27b56a84cd2d7325'],
    ['xxh3', 80, 'bcdefbbb2c47c90a'],
    ['xxh3', 195, 'cd94217ee362ec3a'],
    ['xxh3', 403, 'cdeb804d65c6dea4'],
    ['xxh3', 2048, 'dd59e2c3a5f038e0'],
    ['xxh3', 2367, 'cb37aeb9e5d361ed'],
    ['xxh128', 0, '99aa06d3014798d86001c324468d497f'],
    ['xxh128', 1, 'a6cd5e9392000f6ac44bdff4074eecdb'],
    ['xxh128', 81, '4952f58181ab00425e8bafb9f95fb803'],
    ['xxh128', 222, '337e09641b948717f1aebd597cec6b3a'],
    ['xxh128', 2048, 'f736557fd47073a5dd59e2c3a5f038e0'],
    ['xxh128', 2367, 'e89c0f6ff369b427cb37aeb9e5d361ed'],
  ] as const)('%s of the first %i bytes of the sanity buffer', async (algorithm, length, expected) => {
    for (const options of IMPLEMENTATIONS)
      expect(await digest(algorithm, sanityBuffer(length), options)).toBe(expected);
  });

  it.each([
    // RFC 1321, section A.5.
    ['md5', '', 'd41d8cd98f00b204e9800998ecf8427e'],
    ['md5', 'abc', '900150983cd24fb0d6963f7d28e17f72'],
    ['md5', '1234567890'.repeat(8), '57edf4a22be3c955ac49da2e2107b67a'],
    // RFC 3174, section 7.3.
    ['sha1', 'abc', 'a9993e364706816aba3e25717850c26c9cd0d89d'],
    ['sha1', 'a'.repeat(1_000_000), '34aa973cd4c4daa4f61eeb2bdbad27316534016f'],
    ['sha1', '01234567'.repeat(80), 'dea356a2cddd90c7a7ecedc5ebb563934f460452'],
    // The tests of the C4 reference library (SMPTE ST 2114:2017).
    ['c4', '', 'c459dsjfscH38cYeXXYogktxf4Cd9ibshE3BHUo6a58hBXmRQdZrAkZzsWcbWtDg5oQstpDuni4Hirj75GEmTc1sFT'],
    ['c4', 'foo', 'c45xZeXwMSpqXjpDumcHMA6mhoAmGHkUo7r9WmN2UgSEQzj9KjgseaQdkEJ11fGb5S1WEENcV3q8RFWwEeVpC7Fjk2'],
  ] as const)('%s of %j', async (algorithm, text, expected) => {
    expect(await digest(algorithm, text)).toBe(expected);
  });

  // The tests of the C4 reference library.
  it('C4 IDs of the lowest and the highest digest', () => {
    expect(c4FromSha512(new Uint8Array(64))).toBe(`c4${'1'.repeat(88)}`);
    expect(c4FromSha512(new Uint8Array(64).fill(0xff))).toBe(
      'c467rpwLCuS5DGA8KGZXKsVQ7dnPb9goRLoKfgGbLfQg9WoLUgNY77E2jT11fem3coV9nAkguBACzrU1iyZM4B8roQ',
    );
  });
});

describe('streaming', () => {
  it.each(HashAlgorithm.options)('%s can be asked so far, and goes on as if it had not been', async (algorithm) => {
    for (const options of IMPLEMENTATIONS) {
      await fc.assert(
        fc.asyncProperty(
          fc.uint8Array({ maxLength: 600 }),
          fc.uint8Array({ maxLength: 600 }),
          async (first, second) => {
            const hasher = await createHasher([algorithm, 'xxh64'], options);
            hasher.update(first);
            expect(hasher.soFar(algorithm)).toBe(await digest(algorithm, first));
            hasher.update(second);
            expect(hasher.digests()[algorithm]).toBe(await digest(algorithm, Buffer.concat([first, second])));
          },
        ),
        { numRuns: 10 },
      );
    }
  });

  it.each(HashAlgorithm.options)('%s can be asked so far, and taken back to where it stood', async (algorithm) => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 600 }), fc.uint8Array({ maxLength: 600 }), async (first, second) => {
        const hasher = await createSteppingHasher([algorithm, 'xxh64']);
        hasher.update(first);
        const goBack = hasher.remember();
        expect(hasher.soFar(algorithm)).toBe(await digest(algorithm, first));
        hasher.update(second);
        expect(hasher.soFar(algorithm)).toBe(await digest(algorithm, Buffer.concat([first, second])));
        goBack();
        expect(hasher.soFar(algorithm)).toBe(await digest(algorithm, first));
        goBack();
        hasher.update(second);
        expect(hasher.digests()[algorithm]).toBe(await digest(algorithm, Buffer.concat([first, second])));
      }),
      { numRuns: 20 },
    );
  });

  it.each(IMPLEMENTATIONS)(
    'gives the same digests in one piece, byte by byte, and split anywhere (%o)',
    async (how) => {
      const bytes = sanityBuffer(20_000);
      const hasher = await createHasher(HashAlgorithm.options, how);
      const digestsOf = (pieces: Iterable<Uint8Array>): Digests => {
        for (const piece of pieces) hasher.update(piece);
        return hasher.digests();
      };
      const atOnce = digestsOf([bytes]);
      expect(Object.keys(atOnce)).toHaveLength(6);
      expect(digestsOf([...bytes].map((byte) => Uint8Array.of(byte)))).toEqual(atOnce);
      fc.assert(
        fc.property(fc.array(fc.nat(bytes.length), { maxLength: 8 }), (cuts) => {
          const edges = [0, ...cuts.toSorted((one, other) => one - other), bytes.length];
          expect(digestsOf(edges.slice(1).map((edge, index) => bytes.subarray(edges[index], edge)))).toEqual(atOnce);
        }),
        { numRuns: 30 },
      );
    },
  );

  it('starts anew after the digests, and after a reset', async () => {
    const hasher = await createHasher(['xxh128', 'sha1']);
    hasher.update(Buffer.from('something else'));
    hasher.reset();
    hasher.update(Buffer.from('abc'));
    const first = hasher.digests();
    hasher.update(Buffer.from('abc'));
    expect(hasher.digests()).toEqual(first);
    expect(first.sha1).toBe('a9993e364706816aba3e25717850c26c9cd0d89d');
  });
});

describe('the addon and WebAssembly', () => {
  it('agree on any bytes, also in memory that direct I/O reads into', async () => {
    const memory = allocateAligned(300_000);
    memory.set(sanityBuffer(memory.length));
    const [one, other] = await Promise.all(
      IMPLEMENTATIONS.map((options) => createHasher(['xxh128', 'xxh3', 'xxh64'], options)),
    );
    fc.assert(
      fc.property(fc.nat(memory.length), fc.nat(memory.length), (start, end) => {
        const bytes = memory.subarray(Math.min(start, end), Math.max(start, end));
        one?.update(bytes);
        other?.update(bytes);
        expect(one?.digests()).toEqual(other?.digests());
      }),
      { numRuns: 200 },
    );
  });
});

describe('against independent programs', () => {
  const tools = [
    ['xxh128', 'xxhsum', '-H2'],
    ['xxh64', 'xxhsum', '-H1'],
    ['md5', 'md5sum', '-b'],
    ['sha1', 'sha1sum', '-b'],
  ] as const;
  const missing = tools.filter(([, tool]) => !hasTool(tool)).map(([, tool]) => tool);
  it.skipIf(missing.length > 0)(
    `could be checked${missing.length > 0 ? ` (skipped: no ${missing.join(', ')})` : ''}`,
    () => undefined,
  );
  it.each(tools.filter(([, tool]) => hasTool(tool)))('%s agrees with %s', async (algorithm, tool, option) => {
    await using folder = await temporaryFolder();
    const bytes = sanityBuffer(1_234_567);
    await writeFile(join(folder.path, 'clip'), bytes);
    expect(await digest(algorithm, bytes)).toBe(digestByTool(tool, option, join(folder.path, 'clip')));
  });
});
