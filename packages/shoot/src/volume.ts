import { z } from 'zod';
import { Instant } from './instant.ts';

/**
 * Who a volume is, wherever it is mounted. `key` is made from all that was found, never from the UUID alone: exFAT's is a
 * 32-bit serial, and labels repeat.
 */
export const VolumeIdentity = z.object({
  key: z.string().regex(/^[a-z0-9-]+$/),
  /** What the key rests on. `label` (label and size only) is weak and gives a finding. `folder` is a marked plain folder. */
  basis: z.enum(['uuid', 'serial', 'label', 'folder']),
  uuid: z.string().nullable(),
  serial: z.string().nullable(),
  label: z.string().nullable(),
  fileSystem: z.string(),
  sizeInBytes: z.number().int().nonnegative(),
});
export type VolumeIdentity = z.output<typeof VolumeIdentity>;

/** Where a volume is mounted now. The path is not the drive: `mountId` and `device` are compared during work. */
export const Mount = z.object({
  path: z.string(),
  /** The kernel's mount id where there is one, else the device again; with a count of the drive's attachments where the kernel keeps one. */
  mountId: z.string(),
  /** `major:minor` of the file system, as `stat` gives it. */
  device: z.string(),
});
export type Mount = z.output<typeof Mount>;

export const VolumeStanding = z.enum(['settling', 'settled', 'empty', 'unreadable', 'gone']);
export type VolumeStanding = z.output<typeof VolumeStanding>;

/** A volume as the service knows it. `recorder: null` is an unclaimed volume: listed, never copied until it is assigned. */
export const Volume = z.object({
  identity: VolumeIdentity,
  mount: Mount.nullable(),
  standing: VolumeStanding,
  recorder: z.string().nullable(),
  rollId: z.string().nullable(),
  fileCount: z.number().int().nonnegative(),
  sizeInBytes: z.number().int().nonnegative(),
  litterCount: z.number().int().nonnegative(),
  /** Why the volume could not be read, for `unreadable`. */
  why: z.string().nullable(),
  seenAt: Instant,
});
export type Volume = z.output<typeof Volume>;
