import { Finding, FolderName, type Instant } from '@quayside/shoot';
import { z } from 'zod';
import { SyncGroup } from './sync-group.ts';

/** Why a clip is in no group. */
export const UngroupedCode = z.enum([
  'NO_MEDIA',
  'DAMAGED',
  'NO_TIMECODE',
  'BAD_TIMECODE',
  'NO_RATE',
  'NO_LENGTH',
  'EXISTS_TWICE',
]);
export type UngroupedCode = z.output<typeof UngroupedCode>;

export const UngroupedClip = z.object({
  clipId: z.string(),
  recorder: FolderName,
  code: UngroupedCode,
  /** One sentence: why, and what to do if anything. */
  why: z.string(),
});
export type UngroupedClip = z.output<typeof UngroupedClip>;

/**
 * A finding and its place: what a map or a list marks. A matter of one clip has that clip as its subject; one of a group
 * or a recorder has the shoot, with `path` made of the group's id, the recorder and what else tells it apart.
 */
export const GroupingFinding = Finding.extend({
  groupId: z.string().nullable(),
  recorder: FolderName.nullable(),
  clipIds: z.array(z.string()),
});
export type GroupingFinding = z.output<typeof GroupingFinding>;

/** Groups in the order of recording; ungrouped clips by id; findings by severity, then group, then code. */
export const GroupingResult = z.object({
  groups: z.array(SyncGroup),
  ungrouped: z.array(UngroupedClip),
  findings: z.array(GroupingFinding),
});
export type GroupingResult = z.output<typeof GroupingResult>;

/** What a grouping is made for. */
export interface GroupingContext {
  readonly shootId: string;
  /** The moment that findings are dated with. */
  readonly at: Instant;
  /** The groups as last made, so that they keep their identity. */
  readonly previous?: readonly Pick<SyncGroup, 'id' | 'members'>[];
  /** The dates (`YYYY-MM-DD`) that the shoot is known to have, if they are. */
  readonly shootDays?: readonly string[];
}
