import { isUtf8 } from 'node:buffer';
import { QuaysideError } from '@quayside/shoot';

const FIRST_ESCAPE = 0xdc00;

/**
 * The name that stands for these bytes: UTF-8 as it is, each byte that is not valid UTF-8 as the lone surrogate
 * U+DC80..U+DCFF (PEP 383). `bytesFromName` gives exactly the same bytes back.
 */
export function nameFromBytes(bytes: Uint8Array): string {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (isUtf8(buffer)) return buffer.toString('utf8');
  let name = '';
  let position = 0;
  while (position < buffer.length) {
    const length = validSequenceLength(buffer, position);
    name +=
      length === 0
        ? String.fromCharCode(FIRST_ESCAPE + (buffer[position] ?? 0))
        : buffer.toString('utf8', position, position + length);
    position += Math.max(1, length);
  }
  return name;
}

/** The bytes that a name or path stands for. @throws QuaysideError `NAME_NOT_BYTES` for a surrogate that stands for no byte. */
export function bytesFromName(name: string): Buffer {
  if (name.isWellFormed()) return Buffer.from(name, 'utf8');
  const parts: Buffer[] = [];
  // By code point, since the low half of a real surrogate pair lies in the same range as an escaped byte.
  for (const character of name) parts.push(bytesFromCharacter(character));
  return Buffer.concat(parts);
}

function bytesFromCharacter(character: string): Buffer {
  if (character.isWellFormed()) return Buffer.from(character, 'utf8');
  const byte = (character.codePointAt(0) ?? 0) - FIRST_ESCAPE;
  if (byte >= 0x80 && byte <= 0xff) return Buffer.of(byte);
  throw new QuaysideError({
    code: 'NAME_NOT_BYTES',
    sentence: `A file name holds the lone surrogate ${JSON.stringify(character)}, which stands for no byte. List the volume again.`,
    retry: 'never',
  });
}

function validSequenceLength(bytes: Buffer, position: number): number {
  for (const length of [1, 2, 3, 4]) {
    if (position + length <= bytes.length && isUtf8(bytes.subarray(position, position + length))) return length;
  }
  return 0;
}
