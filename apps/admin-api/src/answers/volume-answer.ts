import { Instant, VolumeIdentity, VolumeStanding } from '@quayside/shoot';
import { z } from 'zod';

const Count = z.int().nonnegative();

/** A volume that the service has seen. `recorder: null` is an unclaimed one: nothing of it is copied until it is assigned. */
export const VolumeAnswer = z.object({
  key: z.string(),
  basis: VolumeIdentity.shape.basis,
  uuid: z.string().nullable(),
  serial: z.string().nullable(),
  label: z.string().nullable(),
  fileSystem: z.string(),
  capacityInBytes: Count,
  mountPath: z.string().nullable().describe('Where it is mounted now; null while it is away.'),
  standing: VolumeStanding,
  recorder: z.string().nullable(),
  assigned: z
    .object({ recorder: z.string(), shootId: z.string().nullable() })
    .nullable()
    .describe('What an operator assigned it to; goes before what the configuration recognises.'),
  rollId: z.string().nullable(),
  fileCount: Count,
  sizeInBytes: Count.describe('Bytes of the files on it.'),
  litterCount: Count,
  why: z.string().nullable(),
  seenAt: Instant,
});
export type VolumeAnswer = z.output<typeof VolumeAnswer>;
