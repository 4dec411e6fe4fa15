import type { ShootSubject } from '@quayside/shoot';
import type { SyncGroup } from '@quayside/sync-grouping';

/** Sync groups as a guest is told of them. */
export function groupsForGuests(groups: readonly SyncGroup[]): ShootSubject['groups'] {
  return groups.map(({ id, start, rate, lengthInFrames, members }) => ({
    id,
    startTimecode: start.timecode,
    rate: { numerator: rate.numerator, denominator: rate.denominator },
    lengthInFrames,
    members: members.map(({ clipId, recorder, offsetInFrames, confidence }) => ({
      clipId,
      recorder,
      offsetInFrames,
      confidence,
    })),
  }));
}
