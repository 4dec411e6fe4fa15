import { createHash, type Hash } from 'node:crypto';
import type { Digests, HashAlgorithm } from '@quayside/shoot';
import type { IHasher } from 'hash-wasm';
import type { XXHash } from 'xxhash-addon';
import { c4FromSha512 } from './c4.ts';
import { createNativeXxHash, type XxHashAlgorithm } from './native-xxhash.ts';

/** Several digests made in one pass. After `digests` it starts anew, so one hasher serves many files, one after the other. */
export interface Hasher {
  update(bytes: Uint8Array): void;
  /** The digests of what was given since the start or the last call, as ASC MHL writes them. */
  digests(): Digests;
  /** One digest of what was given so far, without ending anything. @throws Error for an algorithm that is not made. */
  soFar(algorithm: HashAlgorithm): string;
  /** Forgets what was given. */
  reset(): void;
}

/** A hasher that can go back to where it stood, which costs speed: not every implementation can. */
export interface SteppingHasher extends Hasher {
  /** Remembers where it stands; calling what is given goes back there, again and again. */
  remember(): () => void;
}

export interface HasherOptions {
  /** False for WebAssembly even where an addon could be had. */
  readonly isNative?: boolean;
}

/** A hasher for these algorithms (each once, whatever their order). */
export async function createHasher(
  algorithms: readonly HashAlgorithm[],
  { isNative = true }: HasherOptions = {},
): Promise<Hasher> {
  const wanted = [...new Set(algorithms)];
  return hasherOf(
    wanted,
    await Promise.all(
      wanted.map(async (algorithm) => (isNative ? await nativeStream(algorithm) : null) ?? steppingStream(algorithm)),
    ),
  );
}

/** As `createHasher`, for a hasher that can go back. */
export async function createSteppingHasher(algorithms: readonly HashAlgorithm[]): Promise<SteppingHasher> {
  const wanted = [...new Set(algorithms)];
  const streams = await Promise.all(wanted.map(steppingStream));
  return {
    ...hasherOf(wanted, streams),
    remember: () => {
      const goBacks = streams.map((stream) => stream.remember());
      return () => {
        for (const goBack of goBacks) goBack();
      };
    },
  };
}

function hasherOf(wanted: readonly HashAlgorithm[], streams: readonly DigestStream[]): Hasher {
  return {
    update: (bytes) => {
      for (const stream of streams) stream.update(bytes);
    },
    digests: () => Object.fromEntries(wanted.map((algorithm, index) => [algorithm, streams[index]?.finish()])),
    soFar: (algorithm) => {
      const stream = streams[wanted.indexOf(algorithm)];
      if (stream === undefined) throw new Error(`No ${algorithm} is made here`);
      return stream.soFar();
    },
    reset: () => {
      for (const stream of streams) stream.reset();
    },
  };
}

interface DigestStream {
  update(bytes: Uint8Array): void;
  finish(): string;
  soFar(): string;
  reset(): void;
}

interface SteppingStream extends DigestStream {
  /** As in `SteppingHasher`. */
  remember(): () => void;
}

async function nativeStream(algorithm: HashAlgorithm): Promise<DigestStream | null> {
  if (algorithm !== 'xxh128' && algorithm !== 'xxh3' && algorithm !== 'xxh64') return null;
  const native = await createNativeXxHash(algorithm);
  return native === null ? null : fromNative(native);
}

async function steppingStream(algorithm: HashAlgorithm): Promise<SteppingStream> {
  switch (algorithm) {
    case 'xxh128':
    case 'xxh3':
    case 'xxh64':
      return fromWasm(await createWasmXxHash(algorithm));
    case 'md5':
    case 'sha1':
      return fromCrypto(algorithm, (hash) => hash.digest('hex'));
    case 'c4':
      return fromCrypto('sha512', (hash) => c4FromSha512(hash.digest()));
  }
}

/** Loaded when it is wanted, which is seldom: it takes longer than the rest of a mover's start. */
async function createWasmXxHash(algorithm: XxHashAlgorithm): Promise<IHasher> {
  const { createXXHash128, createXXHash3, createXXHash64 } = await import('hash-wasm');
  return { xxh128: createXXHash128, xxh3: createXXHash3, xxh64: createXXHash64 }[algorithm]();
}

function fromNative(hasher: XXHash): DigestStream {
  return {
    update: (bytes) => hasher.update(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)),
    finish: () => {
      const digest = hasher.digest().toString('hex');
      hasher.reset();
      return digest;
    },
    // Taking the digest leaves the state as it is; only a reset begins anew.
    soFar: () => hasher.digest().toString('hex'),
    reset: () => hasher.reset(),
  };
}

function fromWasm(hasher: IHasher): SteppingStream {
  hasher.init();
  return {
    soFar: () => {
      const state = hasher.save();
      const digest = hasher.digest('hex');
      hasher.load(state);
      return digest;
    },
    update: (bytes) => void hasher.update(bytes),
    finish: () => {
      const digest = hasher.digest('hex');
      hasher.init();
      return digest;
    },
    remember: () => {
      const state = hasher.save();
      return () => void hasher.load(state);
    },
    reset: () => void hasher.init(),
  };
}

function fromCrypto(name: string, finish: (hash: Hash) => string): SteppingStream {
  let hash = createHash(name);
  return {
    soFar: () => finish(hash.copy()),
    update: (bytes) => void hash.update(bytes),
    finish: () => {
      const digest = finish(hash);
      hash = createHash(name);
      return digest;
    },
    remember: () => {
      const state = hash.copy();
      return () => {
        hash = state.copy();
      };
    },
    reset: () => {
      hash = createHash(name);
    },
  };
}
