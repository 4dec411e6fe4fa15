import { z } from 'zod';
import { MediaFacts } from './clip-facts.ts';

/**
 * One regular file of a volume as a listing saw it.
 *
 * `path` is relative to the volume's root with `/` between parts. Names are bytes; a byte that is not valid UTF-8 stands
 * as the lone surrogate U+DC80..U+DCFF (the method of Python's PEP 383), so every name survives JSON and can be turned
 * back into the exact bytes.
 */
export const FileEntry = z.object({
  path: z.string().min(1),
  sizeInBytes: z.number().int().nonnegative(),
  /** Milliseconds since 1970-01-01 UTC, with the fraction that the file system gave. */
  modifiedMs: z.number(),
});
export type FileEntry = z.output<typeof FileEntry>;

/** The facts of a file, with the size and time that it had then: another one of the same name has other facts. */
export const FileFacts = FileEntry.extend({ facts: MediaFacts });
export type FileFacts = z.output<typeof FileFacts>;

/** What a volume held at one moment. `files` is sorted by path in code-unit order, so equal content lists equally. */
export const VolumeListing = z.object({
  files: z.array(FileEntry),
  /** System litter that the configured list leaves out, by count. */
  litterCount: z.number().int().nonnegative(),
  /** Links, sockets, devices and pipes: never followed, never copied, always told. */
  specials: z.array(z.object({ path: z.string(), kind: z.enum(['link', 'socket', 'device', 'pipe', 'other']) })),
  /** Folders or files that could not be read. Anything here keeps a roll from being clear. */
  unreadable: z.array(z.object({ path: z.string(), why: z.string() })),
});
export type VolumeListing = z.output<typeof VolumeListing>;
