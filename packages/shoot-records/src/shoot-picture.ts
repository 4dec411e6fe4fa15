import { ClipRendering, PlanOnRecord } from '@quayside/proxy-planning';
import { Clip, GuestRunRecord, Instant, Shoot } from '@quayside/shoot';
import { GroupingFinding, SyncGroup, UngroupedClip } from '@quayside/sync-grouping';
import { z } from 'zod';

/** Where a file lies below the shoot's folder at a destination: segments with `/` between, none empty, `.` or `..`. */
export const PlaceInShoot = z
  .string()
  .refine(
    (path) => path.split('/').every((segment) => segment !== '' && segment !== '.' && segment !== '..'),
    'a path below the shoot’s folder: no leading slash, no empty segment, no . or ..',
  );

/**
 * A clip, and where it and a proxy that cuts back to it lie at the destination that the records are written to; null while they
 * are not there. `rendering` is how far its proxy is, and what that came to; absent where nobody knows.
 */
export const PicturedClip = Clip.extend({
  place: PlaceInShoot.nullable(),
  proxy: PlaceInShoot.nullable(),
  rendering: ClipRendering.optional(),
});
export type PicturedClip = z.output<typeof PicturedClip>;

/** One thing that a group still waits for: `why` is a short sentence that names it. */
export const MissingPart = z.object({ clipId: z.string().nullable(), why: z.string() });
export type MissingPart = z.output<typeof MissingPart>;

/** Whether a group can be edited now at this destination, or what is still missing. */
export const EditState = z.discriminatedUnion('state', [
  z.object({ state: z.literal('editable') }),
  z.object({ state: z.literal('waiting'), missing: z.array(MissingPart).min(1) }),
]);
export type EditState = z.output<typeof EditState>;

export const PicturedGroup = SyncGroup.extend({ edit: EditState });
export type PicturedGroup = z.output<typeof PicturedGroup>;

/** Who has seen a finding, when, and what they noted. */
export const Acknowledgement = z.object({ by: z.string(), at: Instant, note: z.string() });
export type Acknowledgement = z.output<typeof Acknowledgement>;

/** A finding of the grouping, or any other of the shoot; `acknowledged` is null until somebody has seen it. */
export const PicturedFinding = GroupingFinding.extend({ acknowledged: Acknowledgement.nullable() });
export type PicturedFinding = z.output<typeof PicturedFinding>;

/** A file that a plugin's run left: where it lies below the shoot's folder at this destination, or at which others it lies. */
export const PicturedFile = z.object({
  path: z.string(),
  place: PlaceInShoot.nullable(),
  elsewhere: z.array(z.string()).readonly(),
});
export type PicturedFile = z.output<typeof PicturedFile>;

/** A run of a plugin's step that ended well, as its record beside the footage tells it. */
export const PicturedRun = GuestRunRecord.pick({
  step: true,
  version: true,
  subject: true,
  endedAt: true,
  output: true,
  findings: true,
}).extend({ files: z.array(PicturedFile).readonly() });
export type PicturedRun = z.output<typeof PicturedRun>;

/**
 * All that a shoot's records are made of, for one destination. Groups and findings in the grouping's own order; each
 * clip that groups, ungrouped clips or findings name is among `clips`, in any order.
 */
export const ShootPicture = z.object({
  shoot: Shoot.pick({ id: true, name: true }),
  /** The moment that the records are made; nothing here reads a clock. */
  madeAt: Instant,
  clips: z.array(PicturedClip),
  groups: z.array(PicturedGroup),
  ungrouped: z.array(UngroupedClip),
  findings: z.array(PicturedFinding),
  /** The plan of proxies as last made, or null when there is none. It may name clips that the picture does not hold any more. */
  proxies: PlanOnRecord.nullable(),
  /** What plugins made of the shoot, in any order. */
  guests: z.array(PicturedRun),
});
export type ShootPicture = z.output<typeof ShootPicture>;
