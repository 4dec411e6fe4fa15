import { z } from 'zod';
import { Instant } from './instant.ts';
import { FolderName, RecorderRole } from './recorder.ts';

/** An exact fraction of two safe integers, as rates are: 24000/1001, never 23.976. */
export const Ratio = z.object({ numerator: z.number().int().positive(), denominator: z.number().int().positive() });
export type Ratio = z.output<typeof Ratio>;

/**
 * The picture of a clip. `frameCount` is what the file's own tables count, not duration times rate. `startTimecode` is the
 * first label as written in the file; a `;` before the frames marks drop-frame.
 */
export const PictureFacts = z.object({
  codec: z.string(),
  profile: z.string().nullable(),
  width: z.number().int().positive(),
  height: z.number().int().positive(),
  pixelAspect: Ratio.nullable(),
  rate: Ratio.nullable(),
  isVariableRate: z.boolean(),
  frameCount: z.number().int().nonnegative().nullable(),
  scan: z.enum(['progressive', 'interlaced', 'mixed']).nullable(),
  bitDepth: z.number().int().positive().nullable(),
  chroma: z.string().nullable(),
  colour: z.object({
    primaries: z.string().nullable(),
    transfer: z.string().nullable(),
    matrix: z.string().nullable(),
  }),
});
export type PictureFacts = z.output<typeof PictureFacts>;

export const SoundFacts = z.object({
  codec: z.string(),
  channels: z.number().int().positive(),
  sampleRate: z.number().int().positive().nullable(),
  bitDepth: z.number().int().positive().nullable(),
  /** Samples of one channel. */
  sampleCount: z.number().int().nonnegative().nullable(),
});
export type SoundFacts = z.output<typeof SoundFacts>;

/** What a broadcast wave says of itself: `bext` (EBU Tech 3285) and iXML. */
export const WaveFacts = z.object({
  /** The first sample's index since midnight at the file's own sample rate (EBU Tech 3285, TimeReference). */
  timeReference: z.number().int().nonnegative().nullable(),
  originator: z.string().nullable(),
  originatedAt: z.string().nullable(),
  project: z.string().nullable(),
  scene: z.string().nullable(),
  take: z.string().nullable(),
  tape: z.string().nullable(),
  fileUid: z.string().nullable(),
  timecodeRate: Ratio.nullable(),
  isDropFrame: z.boolean().nullable(),
  samplesSinceMidnight: z.number().int().nonnegative().nullable(),
  timestampSampleRate: z.number().int().positive().nullable(),
  trackNames: z.array(z.string()),
});
export type WaveFacts = z.output<typeof WaveFacts>;

export const DamageKind = z.enum(['truncated', 'no-index', 'zero-length', 'frame-gaps', 'sound-short', 'unreadable']);

/** What a file is and says, as read from a few megabytes of it. A file that is no media is a fact, not an error. */
export const MediaFacts = z.object({
  kind: z.enum(['picture', 'sound', 'other']),
  container: z.string().nullable(),
  durationMs: z.number().nonnegative().nullable(),
  picture: PictureFacts.nullable(),
  startTimecode: z.string().nullable(),
  sound: z.array(SoundFacts),
  wave: WaveFacts.nullable(),
  device: z.object({ make: z.string().nullable(), model: z.string().nullable(), serial: z.string().nullable() }),
  reel: z.string().nullable(),
  /** `zone` says how sure the creation date is: `utc` and `offset` are certain, `unknown` may be local time. */
  created: z.object({ at: z.string(), zone: z.enum(['utc', 'offset', 'unknown']) }).nullable(),
  damage: z.array(z.object({ kind: DamageKind, why: z.string() })),
});
export type MediaFacts = z.output<typeof MediaFacts>;

/** One clip of a shoot with its facts: what grouping and planning work on. `id` is the roll and the path in it. */
export const Clip = z.object({
  id: z.string(),
  rollId: FolderName,
  path: z.string(),
  recorder: FolderName,
  role: RecorderRole,
  sizeInBytes: z.number().int().nonnegative(),
  modifiedAt: Instant,
  facts: MediaFacts,
});
export type Clip = z.output<typeof Clip>;
