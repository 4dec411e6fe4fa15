import type { Clip, Ratio, RecorderRole } from '@quayside/shoot';
import { countAtLabel, printLabel, type Rate, RATES, secondsAt } from '@quayside/timecode';
import { groupBySync } from './group-by-sync.ts';
import { GroupingPolicy } from './grouping-policy.ts';
import type { GroupingContext, GroupingResult } from './grouping-result.ts';
import type { GroupMember } from './sync-group.ts';

export const POLICY = GroupingPolicy.parse({});
export const CONTEXT: GroupingContext = { shootId: 'pottery-class', at: '2026-11-25T18:00:00.000Z' };

/** Milliseconds from a clock's zero by the calendar: that of a recorder whose timecode is the time of day in UTC. */
const MIDNIGHT = Date.UTC(2026, 10, 25);

interface Recording {
  readonly recorder: string;
  readonly from: string;
  /** Frames for a picture, seconds for sound. */
  readonly length: number;
  readonly rate?: Rate;
  readonly name?: string;
  readonly roll?: string;
  /** When the recording began by the calendar; without it, the time of day that the timecode says. */
  readonly date?: string;
  readonly dayOffset?: number;
  readonly picture?: Partial<NonNullable<Clip['facts']['picture']>>;
  readonly facts?: Partial<Clip['facts']>;
  readonly wave?: Partial<NonNullable<Clip['facts']['wave']>>;
  readonly role?: RecorderRole;
  readonly bytesPerUnit?: number;
}

const NO_COLOUR = { primaries: null, transfer: null, matrix: null };

/** A clip of `wheel`, `hands`, `wide`, `kiln` or the switcher's `mix`: UHD at 23.976 with two channels of sound. */
export function pictureClip(recording: Recording): Clip {
  const {
    recorder,
    from,
    length,
    rate = RATES['23.976'],
    role = recorder === 'mix' ? 'program' : 'camera',
  } = recording;
  const fraction: Ratio = { numerator: rate.numerator, denominator: rate.denominator };
  const seconds = secondsAt(countAtLabel(from, rate), rate);
  const startMs = dateOf(recording, (seconds.numerator / seconds.denominator) * 1000);
  const durationMs = Math.round((length * 1000 * rate.denominator) / rate.numerator);
  return clipOf(recording, {
    role,
    startMs,
    durationMs,
    sizeInBytes: 2_000_000 + length * (recording.bytesPerUnit ?? 1_000_003),
    facts: {
      kind: 'picture',
      container: 'mov',
      durationMs,
      picture: {
        codec: 'prores',
        profile: 'LT',
        width: 3840,
        height: 2160,
        pixelAspect: { numerator: 1, denominator: 1 },
        rate: fraction,
        isVariableRate: false,
        frameCount: length,
        scan: 'progressive',
        bitDepth: 10,
        chroma: '4:2:2',
        colour: NO_COLOUR,
        ...recording.picture,
      },
      startTimecode: from,
      sound: [
        { codec: 'pcm', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: Math.round(durationMs * 48) },
      ],
      wave: null,
    },
  });
}

/** A broadcast wave of `desk` at 48 kHz; its time reference is right for the rate unless `wave` says otherwise. */
export function soundClip(recording: Recording): Clip {
  const { from, length, rate = RATES['23.976'], role = 'sound' } = recording;
  const seconds = secondsAt(countAtLabel(from, rate), rate);
  const timeReference = Math.round((seconds.numerator * 48_000) / seconds.denominator);
  const startMs = dateOf(recording, (timeReference * 1000) / 48_000);
  return clipOf(recording, {
    role,
    startMs,
    durationMs: length * 1000,
    sizeInBytes: 4096 + length * 48_000 * 6,
    facts: {
      kind: 'sound',
      container: 'wav',
      durationMs: length * 1000,
      picture: null,
      startTimecode: null,
      sound: [{ codec: 'pcm', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: length * 48_000 }],
      wave: {
        timeReference,
        originator: null,
        originatedAt: null,
        project: null,
        scene: null,
        take: null,
        tape: null,
        fileUid: null,
        timecodeRate: { numerator: rate.numerator, denominator: rate.denominator },
        isDropFrame: rate.drop > 0,
        samplesSinceMidnight: timeReference,
        timestampSampleRate: 48_000,
        trackNames: ['potter', 'room'],
        ...recording.wave,
      },
    },
  });
}

/** One take of all four cameras: `wheel` first, the others a few frames later at start and stop, as followers are. */
export function followedTake(from: string, frames: number, options: Partial<Recording> = {}): readonly Clip[] {
  return ['wheel', 'hands', 'wide', 'kiln'].map((recorder, lag) => {
    const rate = options.rate ?? RATES['23.976'];
    const base = countAtLabel(from, rate);
    const label = printLabel(base + lag, rate);
    return pictureClip({ ...options, recorder, from: label, length: frames });
  });
}

function dateOf({ date, dayOffset = 0 }: Recording, sinceMidnightMs: number): number {
  return date === undefined ? MIDNIGHT + dayOffset * 86_400_000 + Math.round(sinceMidnightMs) : Date.parse(date);
}

function clipOf(
  recording: Recording,
  made: {
    readonly role: RecorderRole;
    readonly startMs: number;
    readonly durationMs: number;
    readonly sizeInBytes: number;
    readonly facts: Omit<Clip['facts'], 'device' | 'reel' | 'created' | 'damage'>;
  },
): Clip {
  const { recorder, from } = recording;
  const rollId = recording.roll ?? `${recorder}-1`;
  const startDate = new Date(Math.floor(made.startMs / 1000) * 1000).toISOString();
  const path = recording.name ?? `clips/${startDate.slice(0, 10)}-${from.replaceAll(/[^0-9]/g, '')}.mov`;
  return {
    id: `${rollId}/${path}`,
    rollId,
    path,
    recorder,
    role: made.role,
    sizeInBytes: made.sizeInBytes,
    modifiedAt: new Date(made.startMs + made.durationMs).toISOString(),
    facts: {
      ...made.facts,
      device: { make: null, model: null, serial: null },
      reel: null,
      created: { at: startDate, zone: 'utc' },
      damage: [],
      ...recording.facts,
    },
  };
}

/** A group as one line: its label, then each recorder with its offset in frames, `*` where the clip is shared. */
export function outline(result: GroupingResult): readonly string[] {
  return result.groups.map((one) => {
    const members = one.members.map(
      (member) => `${member.recorder}${member.isShared ? '*' : ''}+${member.offsetInFrames}`,
    );
    return `${one.start.timecode} ${members.toSorted().join(' ')}`;
  });
}

/** The codes of a result's findings with what each is about: a recorder, and the take where it has one. */
export function told(result: GroupingResult): readonly string[] {
  const takes = new Map(result.groups.map((one) => [one.id, one.start.timecode]));
  return result.findings
    .map(({ code, recorder, groupId }) => [code, recorder, takes.get(groupId ?? '')].filter(Boolean).join(' '))
    .toSorted();
}

export function memberOf(result: GroupingResult, recorder: string): GroupMember {
  const member = result.groups.flatMap((each) => each.members).find((one) => one.recorder === recorder);
  if (member === undefined) throw new Error(`${recorder} is in no group`);
  return member;
}

/** Three takes of all four cameras: 100, 200 and 50 labelled seconds long, ten minutes apart. */
export function threeTakes(): readonly Clip[] {
  return [
    ...followedTake('10:00:00:00', 2400),
    ...followedTake('10:10:00:00', 4800),
    ...followedTake('10:20:00:00', 1200),
  ];
}

/** The three takes without a recorder, or without its clip from a label on. */
export function threeTakesWithout(recorder: string, from?: string): readonly Clip[] {
  return threeTakes().filter(
    (clip) => clip.recorder !== recorder || (from !== undefined && clip.facts.startTimecode !== from),
  );
}

/** The groups and findings of clips under the default policy. */
export function group(clips: readonly Clip[]): GroupingResult {
  return groupBySync(clips, POLICY, CONTEXT);
}
