import { bytesFromName } from './name-bytes.ts';
import { cutToBytes } from './cut-to-bytes.ts';

/** The longest name that Linux file systems hold, in bytes. */
export const LONGEST_NAME_BYTES = 255;

/** The name under which a second, third... file is kept when its own is taken: `clip__2.mov`. Never over 255 bytes. */
export function numberedName(name: string, number: number): string {
  if (number === 1) return name;
  const { stem, extension } = splitName(name);
  const suffix = `__${number}${extension}`;
  return cutToBytes(stem, LONGEST_NAME_BYTES - bytesFromName(suffix).length) + suffix;
}

/** A name as stem and extension with its dot. A long or leading "extension" is no extension. */
export function splitName(name: string): { readonly stem: string; readonly extension: string } {
  const dot = name.lastIndexOf('.');
  const extension = dot > 0 && name.length - dot <= 16 ? name.slice(dot) : '';
  return { stem: name.slice(0, name.length - extension.length), extension };
}
