import { bytesFromName } from './name-bytes.ts';

/** The longest head of a name that fits in so many bytes, cut between characters and not inside a percent-escape. */
export function cutToBytes(name: string, limit: number): string {
  let head = '';
  let size = 0;
  for (const [character] of name.matchAll(/%[0-9A-F]{2}|./gsu)) {
    size += bytesFromName(character).length;
    if (size > limit) break;
    head += character;
  }
  return head;
}
