import { createHash } from 'node:crypto';
import { cutToBytes } from './cut-to-bytes.ts';
import { bytesFromName, nameFromBytes } from './name-bytes.ts';
import { LONGEST_NAME_BYTES, splitName } from './numbered-name.ts';

/** What names a destination's file system holds: `any` that Linux knows, or only those that exFAT, NTFS and SMB know too. */
export type NameFit = 'any' | 'portable';

const ESCAPE = /%[0-9A-Fa-f]{2}/;
// Control characters, U+FFFE/U+FFFF and lone surrogates cannot stand in an XML manifest (XML 1.0, section 2.2).
const UNWRITABLE = /[\p{Cc}\uFFFE\uFFFF]|\p{Cs}/u;
const UNPORTABLE = /["*:<>?\\|]/;
const DOS_NAME = /^(?:con|prn|aux|nul|com[1-9]|lpt[1-9])(?=$|\.)/i;
// The folder of the manifests: footage that brings one along must not mix with ours. And what the standard's ignore list names:
// no manifest would record it, so it could never be proven (ASC MHL specification v1.0, section 5.6.1.2).
const LEFT_OUT_OF_MANIFESTS = /^(?:ascmhl|\.DS_Store)$/i;

/**
 * Where a file of a volume is stored, below the roll's folder. Names that manifests or the destination cannot hold are
 * percent-escaped, `%` itself too where it could be misread; different paths stay different. `originalPathFor` undoes it,
 * except for a part over 255 bytes, which is shortened with a digest and can be undone from the ledger only.
 */
export function storedPathFor(path: string, fit: NameFit = 'any'): string {
  return path
    .split('/')
    .map((part) => storedNameFor(part, fit))
    .join('/');
}

/** The path on the volume that a stored path came from, unless the ledger knows better (shortened, or kept beside another). */
export function originalPathFor(storedPath: string): string {
  return storedPath.split('/').map(originalNameFor).join('/');
}

/** False when the stored path is not the one that the path itself gives: its name was taken by other content, and both are kept. */
export function isStoredUnderOwnName(path: string, storedPath: string): boolean {
  return storedPath === storedPathFor(path, 'any') || storedPath === storedPathFor(path, 'portable');
}

/** What needs no escape anywhere, as most names are. */
const PLAIN = /^[a-zA-Z0-9_-](?:[a-zA-Z0-9 ._-]{0,126}[a-zA-Z0-9_-])?$/;

function storedNameFor(name: string, fit: NameFit): string {
  if (PLAIN.test(name) && !DOS_NAME.test(name) && !LEFT_OUT_OF_MANIFESTS.test(name)) return name;
  const escaped = escapeName(name, fit);
  if (bytesFromName(escaped).length <= LONGEST_NAME_BYTES) return escaped;
  const digest = createHash('sha256').update(bytesFromName(name)).digest('hex').slice(0, 16);
  const suffix = `~${digest}${splitName(escaped).extension}`;
  return cutToBytes(escaped, LONGEST_NAME_BYTES - bytesFromName(suffix).length) + suffix;
}

function escapeName(name: string, fit: NameFit): string {
  const characters = Array.from(name);
  const mapped = characters.map((character, index) => {
    const isLast = index === characters.length - 1;
    return mustEscape(character, { name, fit, isFirst: index === 0, isLast }) ? percentEscape(character) : character;
  });
  const isAsItWas = mapped.every((character, index) => character === characters[index]);
  if (isAsItWas && !ESCAPE.test(name)) return name;
  return mapped.map((character) => (character === '%' ? '%25' : character)).join('');
}

interface Place {
  readonly name: string;
  readonly fit: NameFit;
  readonly isFirst: boolean;
  readonly isLast: boolean;
}

function mustEscape(character: string, place: Place): boolean {
  if (UNWRITABLE.test(character)) return true;
  if (place.isFirst && LEFT_OUT_OF_MANIFESTS.test(place.name)) return true;
  if (place.fit === 'any') return false;
  if (UNPORTABLE.test(character)) return true;
  if (place.isFirst && DOS_NAME.test(place.name)) return true;
  return place.isLast && (character === '.' || character === ' ');
}

function percentEscape(character: string): string {
  return [...bytesFromName(character)].map((byte) => `%${byte.toString(16).toUpperCase().padStart(2, '0')}`).join('');
}

function originalNameFor(name: string): string {
  if (!ESCAPE.test(name)) return name;
  const parts = name.split(/(%[0-9A-Fa-f]{2})/);
  // `split` with a group puts the escapes at the odd places.
  const bytes = parts.map((part, index) =>
    index % 2 === 1 ? Buffer.of(parseInt(part.slice(1), 16)) : bytesFromName(part),
  );
  return nameFromBytes(Buffer.concat(bytes));
}
