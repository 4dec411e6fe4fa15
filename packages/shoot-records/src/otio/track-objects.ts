import type { Ratio } from '@quayside/shoot';
import { type Rational, subtractRationals } from '@quayside/timecode';
import type { ClipIndex } from '../clip-index.ts';
import type { Recorder } from '../recorders.ts';
import { clipObject, type Use } from './clip-object.ts';
import { endOf, type LaidMember, layTracks } from './lay-tracks.ts';
import type { Otio } from './otio-json.ts';
import { rationalTime, wholeTime } from './rational-time.ts';

/** What all tracks of one timeline share. */
export interface TrackSetting {
  readonly clips: ClipIndex;
  readonly recorders: readonly Recorder[];
  /** The timeline's rate. */
  readonly rate: Ratio;
  readonly depth: number;
}

const SOUND_RATE: Ratio = { numerator: 48_000, denominator: 1 };

/**
 * The tracks of a timeline from the bottom: pictures by recorder, the program uppermost so that a player shows it, then sound,
 * the sound recorders first. A recorder whose clips overlap has several tracks, numbered from the second on.
 */
export function trackObjects(members: readonly LaidMember[], setting: TrackSetting): readonly Otio[] {
  const pictures = members.filter(({ member }) => member.range.unit === 'frames');
  const sound = members.filter(({ member }) => member.range.unit === 'samples' || hasSound(member.clipId, setting));
  return [
    ...setting.recorders.flatMap((recorder) => recorderTracks(pictures, { recorder, use: 'picture' }, setting)),
    ...setting.recorders
      .toReversed()
      .toSorted((left, right) => Number(right.role === 'sound') - Number(left.role === 'sound'))
      .flatMap((recorder) => recorderTracks(sound, { recorder, use: 'sound' }, setting)),
  ];
}

function hasSound(clipId: string, { clips }: TrackSetting): boolean {
  return clips.get(clipId).facts.sound.length > 0;
}

function recorderTracks(
  members: readonly LaidMember[],
  { recorder, use }: { readonly recorder: Recorder; readonly use: Use },
  setting: TrackSetting,
): readonly Otio[] {
  const own = members.filter(({ member }) => member.recorder === recorder.name);
  return layTracks(own).map((row, at) => {
    const name = use === 'sound' && recorder.role !== 'sound' ? `${recorder.name} sound` : recorder.name;
    return {
      OTIO_SCHEMA: 'Track.1',
      metadata: { quayside: { schema: 1, recorder: recorder.name, role: recorder.role, use } },
      name: at === 0 ? name : `${name} ${at + 1}`,
      source_range: null,
      effects: [],
      markers: [],
      enabled: true,
      children: fillRow(row, use, setting),
      kind: use === 'picture' ? 'Video' : 'Audio',
    };
  });
}

function fillRow(row: readonly LaidMember[], use: Use, { clips, rate, depth }: TrackSetting): readonly Otio[] {
  let end: Rational = { numerator: 0, denominator: 1 };
  return row.flatMap((laid) => {
    const pause = subtractRationals(laid.start, end);
    end = endOf(laid);
    const clip = clipObject(laid, clips.get(laid.member.clipId), { use, depth });
    return pause.numerator === 0 ? [clip] : [gapObject(pause, [laid.member.range.rate, rate, SOUND_RATE]), clip];
  });
}

function gapObject(pause: Rational, rates: readonly Ratio[]): Otio {
  const { value, rate } = wholeTime(pause, rates);
  return {
    OTIO_SCHEMA: 'Gap.1',
    metadata: {},
    name: '',
    source_range: {
      OTIO_SCHEMA: 'TimeRange.1',
      duration: rationalTime(value, rate),
      start_time: rationalTime(0, rate),
    },
    effects: [],
    markers: [],
    enabled: true,
  };
}
