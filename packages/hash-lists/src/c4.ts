import { createHash } from 'node:crypto';

/** The C4 ID of bytes: SHA-512 in base 58, 90 characters (SMPTE ST 2114:2017). */
export function c4Of(bytes: Uint8Array): string {
  return c4FromDigest(createHash('sha512').update(bytes).digest());
}

/** The C4 ID that stands for a SHA-512 digest of 64 bytes. */
export function c4FromDigest(digest: Uint8Array): string {
  let number = BigInt(`0x${Buffer.from(digest).toString('hex')}`);
  let digits = '';
  for (let place = 0; place < DIGITS; place += 1) {
    digits = (ALPHABET[Number(number % BASE)] ?? '') + digits;
    number /= BASE;
  }
  return `c4${digits}`;
}

/** The 64 bytes of SHA-512 that a well-formed C4 ID stands for. */
export function digestFromC4(id: string): Uint8Array {
  let number = 0n;
  for (const digit of id.slice(2)) number = number * BASE + BigInt(ALPHABET.indexOf(digit));
  return Buffer.from(number.toString(16).padStart(128, '0'), 'hex');
}

// In ASCII order and of fixed length, so C4 IDs sort as their digests do.
const ALPHABET = '123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz';
const BASE = 58n;
const DIGITS = 88;
