import { z } from 'zod';

/**
 * The digests that ASC MHL v2.0 can carry, under the standard's own element names (specification v1.0, appendix D).
 * `xxh128` is our default; the others are made on request, all in the same read.
 */
export const HashAlgorithm = z.enum(['xxh128', 'xxh3', 'xxh64', 'md5', 'sha1', 'c4']);
export type HashAlgorithm = z.output<typeof HashAlgorithm>;

/** Digests of one file by algorithm, as the standard writes them: lower-case hex, or a 90-character C4 ID. */
export const Digests = z.partialRecord(HashAlgorithm, z.string());
export type Digests = z.output<typeof Digests>;
