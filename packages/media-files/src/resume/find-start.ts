import type { ReadAt } from '../direct-io/read-ahead.ts';
import type { Hasher, SteppingHasher } from '../hashing/create-hasher.ts';
import type { SourceReading } from '../source/read-source.ts';
import { forEachAtOnce } from '../workbench/for-each-at-once.ts';
import { isLikeSource } from './is-like-source.ts';
import { markAlgorithm } from './marking-hasher.ts';
import type { PartSink } from './part-sink.ts';
import { type ProvenPart, provePart } from './prove-part.ts';

/** Where the reading of a source begins. */
export interface Start {
  /** So many blocks have been had: every sink stands there or further. */
  readonly blocksHad: number;
  /** A hasher that has had them. */
  readonly hasher: Hasher;
  /** The marks of the longest proven part: what the source gave when it was read first. */
  readonly known: readonly string[];
}

/** All of them have had nothing. There is a prover for each sink, or none at all where no sink has anything to prove. */
export interface Hashers {
  readonly fresh: Hasher;
  readonly provers: readonly SteppingHasher[];
}

/** A sink, a hasher for it, and what came of its part. */
interface Candidate {
  readonly sink: PartSink;
  readonly hasher: SteppingHasher | null;
  part: ProvenPart | null;
}

/**
 * Looks what earlier, interrupted copies of a file are worth, and lets every sink begin behind it. What is taken over is
 * proven: by all its bytes, read from the destination's medium, and by its first and last block on the source. The hasher
 * goes on from the bytes of a proven part, which are what the source gave when it was read first: the digest is that of the
 * source without reading it once more, which would cost what going on is to save.
 */
export async function findStart(
  sinks: readonly PartSink[],
  { readAt, hashers }: { readonly readAt: ReadAt; readonly hashers: Hashers },
  reading: SourceReading,
): Promise<Start> {
  const { fresh, provers } = hashers;
  const candidates = sinks.map((sink, index): Candidate => ({ sink, hasher: provers[index] ?? null, part: null }));
  await proveParts(candidates, reading);
  for (const candidate of candidates) await dropUnlessLikeSource(candidate, readAt, reading);
  await Promise.all(candidates.map(({ sink, part }) => sink.begin(part?.blocks ?? 0)));
  const working = candidates.filter(({ sink }) => !sink.hasFailed()).toSorted((a, b) => blocksOf(a) - blocksOf(b));
  const [shortest, longest] = [working[0], working.at(-1)];
  const blocksHad = shortest === undefined ? 0 : blocksOf(shortest);
  return {
    blocksHad,
    hasher: (blocksHad === 0 ? null : shortest?.hasher) ?? fresh,
    known: longest?.sink.left.slice(0, blocksOf(longest)) ?? [],
  };
}

async function proveParts(
  candidates: readonly Candidate[],
  { algorithms, workbench, signal, onBytes }: SourceReading,
): Promise<void> {
  const wanted = candidates.filter(({ sink }) => sink.left.length > 0);
  const most = Math.max(...wanted.map(({ sink }) => sink.left.length));
  const teller = wanted.find(({ sink }) => sink.left.length === most);
  await forEachAtOnce(wanted, wanted.length, async (candidate) => {
    const { path, left } = candidate.sink;
    if (candidate.hasher === null) return;
    candidate.part = await provePart(candidate.hasher, {
      path,
      marks: left,
      algorithm: markAlgorithm(algorithms),
      workbench,
      signal,
      // Each byte is told of once, however many destinations have it.
      onBytes: candidate === teller ? onBytes : () => undefined,
    });
  });
}

async function dropUnlessLikeSource(candidate: Candidate, readAt: ReadAt, reading: SourceReading): Promise<void> {
  const { sink, hasher, part } = candidate;
  if (part === null || hasher === null || part.blocks === 0) return;
  if (!(await isLikeSource({ hasher, part, marks: sink.left }, readAt, reading))) candidate.part = null;
}

function blocksOf({ part }: Candidate): number {
  return part?.blocks ?? 0;
}
