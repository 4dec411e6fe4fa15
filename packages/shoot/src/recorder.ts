import { z } from 'zod';

/** What a recorder's footage is: a camera's, the sound recorder's, or the switcher's mix. */
export const RecorderRole = z.enum(['camera', 'sound', 'program']);
export type RecorderRole = z.output<typeof RecorderRole>;

/** A name that becomes a folder: lower-case letters, digits and hyphens, so that every file system can hold it. */
export const FolderName = z
  .string()
  .regex(/^[a-z0-9](?:[a-z0-9-]{0,62}[a-z0-9])?$/, 'lower-case letters, digits and hyphens, 64 at most');
export type FolderName = z.output<typeof FolderName>;
