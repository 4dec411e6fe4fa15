const ALPHABET = '123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz';
const DIGITS = 88;

/** The C4 ID (SMPTE ST 2114:2017) of data whose SHA-512 is given: `c4` and 88 digits to base 58. */
export function c4FromSha512(sha512: Uint8Array): string {
  let rest = BigInt(`0x${Buffer.from(sha512).toString('hex')}`);
  let digits = '';
  for (let index = 0; index < DIGITS; index += 1) {
    digits = ALPHABET.charAt(Number(rest % 58n)) + digits;
    rest /= 58n;
  }
  return `c4${digits}`;
}
