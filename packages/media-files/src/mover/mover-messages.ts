import { Digests, Failure, FileEntry, HashAlgorithm, Instant, Mount, ReadBackMethod } from '@quayside/shoot';
import type * as sdk from '@quayside/step-sdk/built-in';
import { z } from 'zod';

const Destination = z.object({ name: z.string(), root: z.string(), id: z.string() });
const RollPlace = z.object({ id: z.string(), folder: z.string() });

const CopyRequest = z.object({
  mount: Mount,
  roll: RollPlace,
  files: z.array(FileEntry),
  destinations: z.array(Destination),
  algorithms: z.array(HashAlgorithm),
  reads: z.enum(['once', 'twice']).default('once'),
});

const RecopyRequest = z.object({
  roll: RollPlace,
  files: z.array(FileEntry),
  from: Destination,
  destinations: z.array(Destination),
  algorithms: z.array(HashAlgorithm),
});

const ReadBackRequest = z
  .object({ roll: RollPlace, paths: z.array(z.string()), destination: Destination, notSince: Instant.optional() })
  // An optional key that is there and undefined is no request of the contract.
  .transform(({ notSince, ...request }) => (notSince === undefined ? request : { ...request, notSince }));

/** What a mover is told. One piece of work at a time. */
export const Order: z.ZodType<Order> = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('copy'), request: CopyRequest }),
  z.object({ kind: z.literal('recopy'), request: RecopyRequest }),
  z.object({ kind: z.literal('readBack'), request: ReadBackRequest }),
  z.object({ kind: z.literal('ask'), mount: Mount }),
  z.object({ kind: z.literal('stop') }),
]);
export type Order =
  | { readonly kind: 'copy'; readonly request: sdk.CopyRequest }
  | { readonly kind: 'recopy'; readonly request: sdk.RecopyRequest }
  | { readonly kind: 'readBack'; readonly request: sdk.ReadBackRequest }
  /** Whether anything on a volume can be read. */
  | { readonly kind: 'ask'; readonly mount: sdk.CopyRequest['mount'] }
  | { readonly kind: 'stop' };

const CopyOutcome = z.intersection(
  z.object({ path: z.string(), destination: z.string() }),
  z.discriminatedUnion('state', [
    z.object({ state: z.literal('written'), storedPath: z.string(), digests: Digests, already: z.boolean() }),
    z.object({ state: z.literal('failed'), failure: Failure }),
  ]),
);

const ReadBackOutcome = z.intersection(
  z.object({ path: z.string() }),
  z.discriminatedUnion('state', [
    z.object({ state: z.literal('verified'), storedPath: z.string(), digests: Digests, method: ReadBackMethod }),
    z.object({ state: z.literal('failed'), failure: Failure }),
  ]),
);

/** What a mover answers: `bytes` now and then, and one of the others at the end of each piece of work. */
export const Answer: z.ZodType<Answer> = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('bytes'), bytes: z.number() }),
  z.object({ kind: z.literal('copied'), outcomes: z.array(CopyOutcome) }),
  z.object({
    kind: z.literal('recopied'),
    copies: z.array(CopyOutcome),
    bad: z.array(z.object({ path: z.string(), failure: Failure })),
  }),
  z.object({ kind: z.literal('readBack'), outcomes: z.array(ReadBackOutcome) }),
  z.object({ kind: z.literal('asked'), isAnswering: z.boolean() }),
  z.object({ kind: z.literal('failed'), failure: Failure }),
]);
export type Answer =
  | { readonly kind: 'bytes'; readonly bytes: number }
  | { readonly kind: 'copied'; readonly outcomes: readonly sdk.CopyOutcome[] }
  | ({ readonly kind: 'recopied' } & sdk.RecopyOutcome)
  | { readonly kind: 'readBack'; readonly outcomes: readonly sdk.ReadBackOutcome[] }
  | { readonly kind: 'asked'; readonly isAnswering: boolean }
  | { readonly kind: 'failed'; readonly failure: Failure };
