import type { Assignment } from '@quayside/job-queue';
import type { Volume } from '@quayside/shoot';
import type { VolumeAnswer } from './volume-answer.ts';

/** A volume in the words of the API. */
export function describeVolume(volume: Volume, assignment: Assignment | undefined): VolumeAnswer {
  const { identity, mount, ...rest } = volume;
  return {
    key: identity.key,
    basis: identity.basis,
    uuid: identity.uuid,
    serial: identity.serial,
    label: identity.label,
    fileSystem: identity.fileSystem,
    capacityInBytes: identity.sizeInBytes,
    mountPath: mount?.path ?? null,
    standing: rest.standing,
    recorder: rest.recorder,
    assigned: assignment === undefined ? null : { recorder: assignment.recorder, shootId: assignment.shootId },
    rollId: rest.rollId,
    fileCount: rest.fileCount,
    sizeInBytes: rest.sizeInBytes,
    litterCount: rest.litterCount,
    why: rest.why,
    seenAt: rest.seenAt,
  };
}
