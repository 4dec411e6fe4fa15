import type * as addon from 'xxhash-addon';
import type { XXHash } from 'xxhash-addon';

export type XxHashAlgorithm = 'xxh128' | 'xxh3' | 'xxh64';

type Addon = Pick<typeof addon, 'XXHash128' | 'XXHash3' | 'XXHash64'>;

/**
 * A hasher of the xxHash project's own code, as an addon: ten times as fast as WebAssembly, with which the three hashes of
 * every byte would alone use up what a copy may cost. Null where there is no build for this system and processor, or where
 * it does not give the published digests.
 */
export async function createNativeXxHash(algorithm: XxHashAlgorithm, load = loadAddon): Promise<XXHash | null> {
  try {
    const { XXHash128, XXHash3, XXHash64 } = await load();
    const hasher = new { xxh128: XXHash128, xxh3: XXHash3, xxh64: XXHash64 }[algorithm](SEED);
    return givesPublishedDigests(hasher, algorithm) ? hasher : null;
  } catch {
    return null;
  }
}

async function loadAddon(): Promise<Addon> {
  return (await import('xxhash-addon')).default;
}

const SEED = Buffer.alloc(8);

/** From the xxHash project's cli/xsum_sanity_check.c @08ae025: one length for each way that bytes take through the code. */
const PUBLISHED: Readonly<Record<XxHashAlgorithm, readonly (readonly [length: number, digest: string])[]>> = {
  xxh128: [
    [1, 'a6cd5e9392000f6ac44bdff4074eecdb'],
    [81, '4952f58181ab00425e8bafb9f95fb803'],
    [222, '337e09641b948717f1aebd597cec6b3a'],
    [2367, 'e89c0f6ff369b427cb37aeb9e5d361ed'],
  ],
  xxh3: [
    [1, 'c44bdff4074eecdb'],
    [80, 'bcdefbbb2c47c90a'],
    [195, 'cd94217ee362ec3a'],
    [2367, 'cb37aeb9e5d361ed'],
  ],
  xxh64: [
    [1, 'e934a84adb052768'],
    [14, '8282dcc4994e35c8'],
    [222, 'b641ae8cb691c174'],
  ],
};

/** A prebuilt binary may meet a processor that its maker never saw, so it is asked before it is trusted. */
function givesPublishedDigests(hasher: XXHash, algorithm: XxHashAlgorithm): boolean {
  const isRight = PUBLISHED[algorithm].every(([length, digest]) => {
    hasher.reset();
    hasher.update(TRIAL_BYTES.subarray(0, length));
    return hasher.digest().toString('hex') === digest;
  });
  hasher.reset();
  return isRight;
}

/** The first bytes of the buffer that those digests are of. */
const TRIAL_BYTES = trialBytes(2367);

function trialBytes(length: number): Buffer {
  const bytes = Buffer.alloc(length);
  let generator = 2654435761n;
  for (let index = 0; index < length; index += 1) {
    bytes[index] = Number(generator >> 56n);
    generator = BigInt.asUintN(64, generator * 11400714785074694797n);
  }
  return bytes;
}
