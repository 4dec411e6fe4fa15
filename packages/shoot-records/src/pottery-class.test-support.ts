import { type ProxyPlan, planProxies, ProxyPolicy } from '@quayside/proxy-planning';
import type { Clip, RecorderRole } from '@quayside/shoot';
import { groupBySync, GroupingPolicy } from '@quayside/sync-grouping';
import { countAtLabel, printLabel, type Rate, RATES, secondsAt, wrapCount } from '@quayside/timecode';
import type { PicturedGroup, ShootPicture } from './shoot-picture.ts';

/** Milliseconds from a clock's zero by the calendar: that of recorders whose timecode is the time of day in UTC. */
const MIDNIGHT = Date.UTC(2026, 10, 25);
export const MADE_AT = '2026-11-25T18:00:00.000Z';

/** One recording of the class; `seconds` is how long it lasts by its own labels. */
export interface Recording {
  readonly recorder: string;
  readonly from: string;
  readonly seconds: number;
  readonly lag?: number;
  readonly rate?: Rate;
  readonly name?: string;
  readonly day?: number;
  readonly facts?: Partial<Clip['facts']>;
  readonly wave?: Partial<NonNullable<Clip['facts']['wave']>>;
}

const ROLES: Readonly<Record<string, RecorderRole>> = { desk: 'sound', mix: 'program' };

/** A clip of a camera, the switcher's `mix`, or the sound recorder `desk`, whose file is a broadcast wave at 48 kHz. */
export function clipOf(recording: Recording): Clip {
  const { recorder, rate = RATES['23.976'], day = 0 } = recording;
  const role = ROLES[recorder] ?? 'camera';
  const count = countAtLabel(recording.from, rate) + (recording.lag ?? 0);
  const frames = Math.round(recording.seconds * rate.base);
  const start = secondsAt(count, rate);
  const durationMs = Math.round((frames * 1000 * rate.denominator) / rate.numerator);
  const startMs = MIDNIGHT + day * 86_400_000 + Math.round((start.numerator * 1000) / start.denominator);
  const label = printLabel(wrapCount(count, rate), rate);
  const path =
    recording.name ??
    `clips/${recorder}-${day + 1}-${label.replaceAll(/[^0-9]/g, '')}.${role === 'sound' ? 'wav' : 'mov'}`;
  const rollId = `${recorder}-20261125-a1b2c3`;
  const facts =
    role === 'sound'
      ? waveFacts(
          { durationMs, rate, timeReference: Math.round((start.numerator * 48_000) / start.denominator) },
          recording,
        )
      : pictureFacts({ durationMs, rate, frames, label });
  return {
    id: `${rollId}/${path}`,
    rollId,
    path,
    recorder,
    role,
    sizeInBytes: 1000 + frames * 1_000_003,
    modifiedAt: new Date(startMs + durationMs).toISOString(),
    facts: {
      ...facts,
      durationMs,
      device: { make: null, model: null, serial: null },
      reel: null,
      created: { at: new Date(startMs).toISOString(), zone: 'utc' },
      damage: [],
      ...recording.facts,
    },
  };
}

type MediaPart = Pick<Clip['facts'], 'kind' | 'container' | 'picture' | 'startTimecode' | 'sound' | 'wave'>;

function pictureFacts(made: {
  readonly durationMs: number;
  readonly rate: Rate;
  readonly frames: number;
  readonly label: string;
}): MediaPart {
  return {
    kind: 'picture',
    container: 'mov',
    picture: {
      codec: 'prores',
      profile: 'LT',
      width: 3840,
      height: 2160,
      pixelAspect: { numerator: 1, denominator: 1 },
      rate: { numerator: made.rate.numerator, denominator: made.rate.denominator },
      isVariableRate: false,
      frameCount: made.frames,
      scan: 'progressive',
      bitDepth: 10,
      chroma: '4:2:2',
      colour: { primaries: null, transfer: null, matrix: null },
    },
    startTimecode: made.label,
    sound: [
      { codec: 'pcm', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: Math.round(made.durationMs * 48) },
    ],
    wave: null,
  };
}

function waveFacts(
  made: { readonly durationMs: number; readonly rate: Rate; readonly timeReference: number },
  recording: Recording,
): MediaPart {
  return {
    kind: 'sound',
    container: 'wav',
    picture: null,
    startTimecode: null,
    sound: [{ codec: 'pcm', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: made.durationMs * 48 }],
    wave: {
      timeReference: made.timeReference,
      originator: null,
      originatedAt: null,
      project: null,
      scene: null,
      take: null,
      tape: null,
      fileUid: null,
      timecodeRate: { numerator: made.rate.numerator, denominator: made.rate.denominator },
      isDropFrame: made.rate.drop > 0,
      samplesSinceMidnight: made.timeReference,
      timestampSampleRate: 48_000,
      trackNames: ['potter', 'room'],
      ...recording.wave,
    },
  };
}

export const CAMERAS = ['wheel', 'hands', 'wide', 'kiln'] as const;

/** One take of the cameras, each a frame later than the one before, as followers are. */
export function take(from: string, seconds: number, options: Partial<Recording> = {}): readonly Clip[] {
  return CAMERAS.map((recorder, lag) => clipOf({ ...options, recorder, from, seconds, lag }));
}

/** What a picture is made of beyond its clips. */
export interface PictureOptions {
  readonly name?: string;
  readonly edit?: (group: Omit<PicturedGroup, 'edit'>, at: number) => PicturedGroup['edit'];
  readonly isHere?: (clip: Clip) => boolean;
}

/** The picture of a shoot with these clips, as the grouping finds it; everything lies at the destination and can be edited. */
export function pictureOf(clips: readonly Clip[], options: PictureOptions = {}): ShootPicture {
  const policy = GroupingPolicy.parse({});
  const { groups, ungrouped, findings } = groupBySync(clips, policy, { shootId: 'pottery-class', at: MADE_AT });
  return {
    shoot: { id: 'pottery-class', name: options.name ?? 'Pottery class' },
    madeAt: MADE_AT,
    clips: clips.map((clip) => ({
      ...clip,
      place: options.isHere?.(clip) === false ? null : placeOf(clip),
      proxy: null,
    })),
    groups: groups.map((group, at) => ({ ...group, edit: options.edit?.(group, at) ?? { state: 'editable' } })),
    ungrouped,
    findings: findings.map((finding) => ({ ...finding, acknowledged: null })),
    proxies: { plannedAt: MADE_AT, changes: [], plan: planOf(clips, groups) },
    guests: [],
  };
}

/** Every picture gets a proxy, and there is room for half of them. */
function planOf(clips: readonly Clip[], groups: readonly Pick<PicturedGroup, 'id' | 'members'>[]): ProxyPlan {
  const rules = [{ name: 'all', make: 'h264' }];
  const context = {
    groups: groups.map(({ id, members }) => ({ id, clipIds: members.map(({ clipId }) => clipId), isComplete: true })),
    measured: [],
    space: null,
  };
  const { high } = planProxies(clips, ProxyPolicy.parse({ rules }), context).totals.planned.bytes;
  return planProxies(clips, ProxyPolicy.parse({ rules, budgetBytes: Math.ceil(high / 2) }), context);
}

function placeOf({ recorder, rollId, path }: Clip): string {
  return `${recorder}/${rollId}/${path}`;
}
