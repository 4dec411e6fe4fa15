import { z } from 'zod';
import { refuse } from './refuse.ts';
import { bytesOf } from './size-text.ts';

/** A size as it may be written, a size text or a number of bytes; in bytes once it is read. */
export const Size = z.union([z.string(), z.number()]).transform((size, context) => {
  const bytes = typeof size === 'number' && Number.isSafeInteger(size) && size >= 0 ? size : bytesOf(String(size));
  if (bytes !== null) return bytes;
  refuse(context, 'is not a size', 'write a number and B, KiB, MiB, GiB or TiB, such as "1 GiB"');
  return z.NEVER;
});
