import { fileNameOf } from '../file-name.ts';
import { ownRangeOf } from '../own-range.ts';
import type { PicturedClip } from '../shoot-picture.ts';
import { relativeUrl } from '../file-url.ts';
import type { LaidMember } from './lay-tracks.ts';
import type { Otio } from './otio-json.ts';
import { timeRange } from './rational-time.ts';

/** What a member is used for on its track; the picture and the sound of one file lie on two tracks. */
export type Use = 'picture' | 'sound';

export interface ClipUse {
  readonly use: Use;
  /** How many folders the timeline's file lies below the shoot's folder. */
  readonly depth: number;
}

/** The `Clip.2` of a member: `available_range` is the whole file in its own numbers, `source_range` the group's part of it. */
export function clipObject({ member }: LaidMember, clip: PicturedClip, { use, depth }: ClipUse): Otio {
  const own = ownRangeOf(clip, member.range);
  const { rate, from, length } = member.range;
  const available_range = timeRange(own, rate);
  const shared = { metadata: {}, name: fileNameOf(clip.path), available_range, available_image_bounds: null };
  const reference: Otio =
    clip.place === null
      ? { OTIO_SCHEMA: 'MissingReference.1', ...shared }
      : { OTIO_SCHEMA: 'ExternalReference.1', ...shared, target_url: relativeUrl(clip.place, depth) };
  // A proxy counts as its original does: the same frames from the same label.
  const proxy: Record<string, Otio> =
    clip.proxy === null
      ? {}
      : {
          proxy: {
            OTIO_SCHEMA: 'ExternalReference.1',
            ...shared,
            name: fileNameOf(clip.proxy),
            target_url: relativeUrl(clip.proxy, depth),
          },
        };
  return {
    OTIO_SCHEMA: 'Clip.2',
    metadata: { quayside: describeClip(clip, member, { use, isDropFrame: own.isDropFrame }) },
    name: fileNameOf(clip.path),
    source_range: timeRange({ start: own.start + from, length }, rate),
    effects: [],
    markers: [],
    enabled: true,
    media_references: { DEFAULT_MEDIA: reference, ...proxy },
    active_media_reference_key: 'DEFAULT_MEDIA',
  };
}

function describeClip(
  clip: PicturedClip,
  member: LaidMember['member'],
  { use, isDropFrame }: { readonly use: Use; readonly isDropFrame: boolean },
): Record<string, string | number | boolean | null | { numerator: number; denominator: number }> {
  return {
    schema: 1,
    clip_id: clip.id,
    recorder: clip.recorder,
    role: clip.role,
    roll_id: clip.rollId,
    path: clip.path,
    reel: clip.facts.reel,
    start_timecode: clip.facts.startTimecode,
    is_drop_frame: isDropFrame,
    rate: { numerator: member.range.rate.numerator, denominator: member.range.rate.denominator },
    use,
    offset: { numerator: member.offset.numerator, denominator: member.offset.denominator },
    offset_in_frames: member.offsetInFrames,
    offset_in_samples: member.offsetInSamples,
    sample_rate: member.sampleRate,
    is_shared: member.isShared,
    placed_by: member.placedBy,
    confidence: member.confidence,
    rests_on: member.restsOn,
  };
}
