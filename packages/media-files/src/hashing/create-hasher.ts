import { createHash, type Hash } from 'node:crypto';
import type { Digests, HashAlgorithm } from '@quayside/shoot';
import { createXXHash128, createXXHash3, createXXHash64, type IHasher } from 'hash-wasm';
import { c4FromSha512 } from './c4.ts';

/** Several digests made in one pass. After `digests` it starts anew, so one hasher serves many files, one after the other. */
export interface Hasher {
  update(bytes: Uint8Array): void;
  /** The digests of what was given since the start or the last call, as ASC MHL writes them. */
  digests(): Digests;
  /** One digest of what was given so far, without ending anything. @throws Error for an algorithm that is not made. */
  soFar(algorithm: HashAlgorithm): string;
  /** Remembers where it stands; calling what is given goes back there. */
  remember(): () => void;
  /** Forgets what was given. */
  reset(): void;
}

/** A hasher for these algorithms (each once, whatever their order). */
export async function createHasher(algorithms: readonly HashAlgorithm[]): Promise<Hasher> {
  const wanted = [...new Set(algorithms)];
  const streams = await Promise.all(wanted.map(createStream));
  return {
    update: (bytes) => {
      for (const stream of streams) stream.update(bytes);
    },
    digests: () => Object.fromEntries(wanted.map((algorithm, index) => [algorithm, streams[index]?.finish()])),
    soFar: (algorithm) => {
      const stream = streams[wanted.indexOf(algorithm)];
      if (stream === undefined) throw new Error(`No ${algorithm} is made here`);
      const goBack = stream.remember();
      const digest = stream.finish();
      goBack();
      return digest;
    },
    remember: () => {
      const goBacks = streams.map((stream) => stream.remember());
      return () => {
        for (const goBack of goBacks) goBack();
      };
    },
    reset: () => {
      for (const stream of streams) stream.reset();
    },
  };
}

interface DigestStream {
  update(bytes: Uint8Array): void;
  finish(): string;
  /** As in `Hasher`; may be called again and again. */
  remember(): () => void;
  reset(): void;
}

async function createStream(algorithm: HashAlgorithm): Promise<DigestStream> {
  switch (algorithm) {
    case 'xxh128':
      return fromWasm(await createXXHash128());
    case 'xxh3':
      return fromWasm(await createXXHash3());
    case 'xxh64':
      return fromWasm(await createXXHash64());
    case 'md5':
    case 'sha1':
      return fromCrypto(algorithm, (hash) => hash.digest('hex'));
    case 'c4':
      return fromCrypto('sha512', (hash) => c4FromSha512(hash.digest()));
  }
}

function fromWasm(hasher: IHasher): DigestStream {
  hasher.init();
  return {
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

function fromCrypto(name: string, finish: (hash: Hash) => string): DigestStream {
  let hash = createHash(name);
  return {
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
