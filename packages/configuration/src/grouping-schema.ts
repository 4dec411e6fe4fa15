import { GroupingPolicy } from '@quayside/sync-grouping';
import { z } from 'zod';

const policy = GroupingPolicy.shape;

/** How sync groups are made: the policy of the grouping itself, each key with its unit, default and price. */
export const Grouping = z
  .strictObject({
    triggerToleranceFrames: policy.triggerToleranceFrames.describe(
      'Frames within which clips count as started by one trigger, however short they are. Default 2. More joins takes that follow each other closely.',
    ),
    followerFrames: policy.followerFrames.describe(
      'Frames by which a follower may start or stop late and still be in order. Default 12. More hides late starts, less tells of slow recorders.',
    ),
    restartPauseSeconds: policy.restartPauseSeconds.describe(
      'Longest pause, in seconds, that is a restart within one take while as many recorders ran on. Default 60.',
    ),
    nightHours: policy.nightHours.describe(
      'Hours by which a clock must jump against the dates of the files to have begun another day, 1 to 20. Default 9.',
    ),
    occasionalShare: policy.occasionalShare.describe(
      "Share of a day's takes, 0 to 1, below which a recorder is an occasional guest that is not missed elsewhere. Default 0.25.",
    ),
    expectedRecorders: policy.expectedRecorders.describe(
      'Recorders that must be in every take, whatever has arrived of them. Default: none, so a recorder is missed only once something of it has arrived.',
    ),
    sampleRates: policy.sampleRates.describe(
      'Sample rates of sound that are in order, in Hz. Default 48000 and 96000. Others give a finding.',
    ),
  })
  .prefault({})
  .describe('How clips are lined up in sync groups, and what is worth a finding.');
