import { Failure, MediaFacts } from '@quayside/shoot';
import { z } from 'zod';

/** What a parser is told: one file at a time. `path` is text, or base64 of the bytes of a name that is no UTF-8. */
export interface Question {
  readonly path: { readonly text: string } | { readonly bytes: string };
  readonly sizeInBytes: number;
}

/** What a parser answers. It may have been led astray by the file, so its words are checked like a stranger's. */
export const Answer = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('ready') }),
  z.object({ kind: z.literal('facts'), facts: MediaFacts, bytesRead: z.number(), cpuMs: z.number() }),
  z.object({ kind: z.literal('failed'), failure: Failure }),
]);
export type Answer = z.output<typeof Answer>;
