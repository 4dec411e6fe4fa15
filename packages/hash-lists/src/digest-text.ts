import type { HashAlgorithm } from '@quayside/shoot';
import { c4FromDigest, digestFromC4 } from './c4.ts';

/** Whether the text is a digest of this algorithm as ASC MHL writes it (specification v1.0, appendix D). */
export function isDigestText(algorithm: HashAlgorithm, text: string): boolean {
  return PATTERN[algorithm].test(text);
}

/** The digest's own bytes. For `c4` these are the 64 bytes of SHA-512. */
export function bytesOfDigest(algorithm: HashAlgorithm, text: string): Uint8Array {
  return algorithm === 'c4' ? digestFromC4(text) : Buffer.from(text, 'hex');
}

/** The digest's bytes as ASC MHL writes them: lower-case hex, or a C4 ID. */
export function textOfDigest(algorithm: HashAlgorithm, bytes: Uint8Array): string {
  return algorithm === 'c4' ? c4FromDigest(bytes) : Buffer.from(bytes).toString('hex');
}

/** The order that specification v1.0, appendix A, asks for within one `hash`; the published schema takes any. */
export const WRITTEN_ORDER: readonly HashAlgorithm[] = ['c4', 'md5', 'sha1', 'xxh128', 'xxh3', 'xxh64'];

const PATTERN: Readonly<Record<HashAlgorithm, RegExp>> = {
  c4: /^c4[1-9A-HJ-NP-Za-km-z]{88}$/,
  md5: /^[0-9a-f]{32}$/,
  sha1: /^[0-9a-f]{40}$/,
  xxh128: /^[0-9a-f]{32}$/,
  xxh3: /^[0-9a-f]{16}$/,
  xxh64: /^[0-9a-f]{16}$/,
};
