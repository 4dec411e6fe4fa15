import { Clip, Instant, Ratio, Shoot } from '@quayside/shoot';
import { UngroupedClip } from '@quayside/sync-grouping';
import { z } from 'zod';
import { PicturedFinding, PicturedGroup, PlaceInShoot } from '../shoot-picture.ts';

/** A clip as the JSON tells it: enough to find the file and to know how it counts. Its other facts are not repeated. */
export const RecordedClip = Clip.pick({
  id: true,
  rollId: true,
  path: true,
  recorder: true,
  role: true,
  sizeInBytes: true,
  modifiedAt: true,
}).extend({
  place: PlaceInShoot.nullable(),
  kind: Clip.shape.facts.shape.kind,
  startTimecode: z.string().nullable(),
  frameRate: Ratio.nullable(),
  frameCount: z.number().int().nonnegative().nullable(),
  sampleRate: z.number().int().positive().nullable(),
  sampleCount: z.number().int().nonnegative().nullable(),
});
export type RecordedClip = z.output<typeof RecordedClip>;

/**
 * The shape of `sync-groups.json`. `version` grows when a reader of an older one would misread it; new keys alone do not
 * make a new version, so a reader ignores keys that it does not know.
 */
export const RecordsJson = z.object({
  format: z.literal('quayside-sync-groups'),
  version: z.literal(1),
  madeAt: Instant,
  shoot: Shoot.pick({ id: true, name: true }),
  /** Sorted by id. */
  clips: z.array(RecordedClip),
  /** In the order of recording. `number` counts from 1 in the shoot; `timeline` is the group's file, relative to this one. */
  groups: z.array(PicturedGroup.extend({ number: z.number().int().positive(), timeline: z.string() })),
  ungrouped: z.array(UngroupedClip),
  /** The gravest first; `number` is the one that the report's marks bear. */
  findings: z.array(PicturedFinding.extend({ number: z.number().int().positive() })),
});
export type RecordsJson = z.output<typeof RecordsJson>;
