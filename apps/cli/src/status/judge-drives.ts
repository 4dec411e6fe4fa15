import { isVerdictOld, placesProven, restsAway, type RollAnswer, type VolumeAnswer } from '@quayside/admin-api';
import { countText } from '../screen/quantities.ts';
import type { Status } from './gather-status.ts';

/** May this drive be recorded over? `CLEAR` means yes; `HOLD` means no, or that it is not known. */
export interface DriveVerdict {
  readonly word: 'CLEAR' | 'HOLD';
  readonly recorder: string;
  readonly label: string;
  readonly volume: string;
  readonly roll: string | null;
  readonly connected: boolean;
  /** It is away, and nothing but its absence holds it: all that is known of it is proven. Still no yes. */
  readonly rests: boolean;
  /** For `HOLD` the reasons, the first being the one to act on; for `CLEAR` the cautions that come with it. */
  readonly reasons: readonly string[];
  readonly secondsLeft: number | null;
  readonly judgedAt: string | null;
  readonly summary: string;
}

/**
 * The verdict on every connected drive that has a recorder, and on every drive that left before it was proven. It passes
 * a roll's verdict on only when it is about what is in the drive now, was renewed lately, and the service is awake to notice a
 * change.
 */
export function judgeDrives({ health, connected, rolls, atMs }: Status): readonly DriveVerdict[] {
  const byId = new Map(rolls.map((roll) => [roll.id, roll]));
  const asleep = sleepers(health);
  const present = connected
    .filter(({ recorder }) => recorder !== null)
    .map((volume) => judge(volume, byId.get(volume.rollId ?? '') ?? null, { asleep, atMs }));
  const shown = new Set(present.map(({ roll }) => roll));
  const away = rolls.filter((roll) => !shown.has(roll.id) && !roll.drivePresent && roll.clearance.verdict === 'hold');
  return [...present, ...away.map(judgeAway)];
}

interface Look {
  /** Why no verdict counts now, or null. */
  readonly asleep: string | null;
  readonly atMs: number;
}

function judge(volume: VolumeAnswer, roll: RollAnswer | null, { asleep, atMs }: Look): DriveVerdict {
  const about = {
    recorder: volume.recorder ?? '',
    label: volume.label ?? volume.key,
    volume: volume.key,
    roll: roll?.id ?? null,
    connected: true,
    rests: false,
    secondsLeft: roll?.progress.secondsLeft ?? null,
    judgedAt: roll?.clearance.judgedAt ?? null,
  };
  const hold = (...reasons: readonly string[]): DriveVerdict => ({ ...about, word: 'HOLD', reasons, summary: '' });
  if (asleep !== null) return hold(asleep);
  if (volume.standing === 'empty')
    return hold('It holds no file, so there is nothing to judge. If you formatted it yourself, record on it.');
  if (volume.standing === 'unreadable')
    return hold(`It cannot be read (${volume.why ?? 'no reason given'}). Check the drive and its cable.`);
  if (volume.standing !== 'settled') return hold('It is being looked at; wait until it has settled.');
  if (roll === null || !roll.drivePresent || roll.volume.key !== volume.key)
    return hold('It is being taken in; wait for the verdict.');
  if (roll.clearance.verdict === 'hold') return hold(...roll.clearance.reasons.map(({ sentence }) => sentence));
  if (isVerdictOld(roll, atMs))
    return hold(
      'Its verdict was not renewed for more than five minutes, so it may be out of date. See the log of the service.',
    );
  return { ...about, word: 'CLEAR', reasons: roll.clearance.cautions, secondsLeft: null, summary: proofOf(roll) };
}

function judgeAway(roll: RollAnswer): DriveVerdict {
  return {
    word: 'HOLD',
    recorder: roll.recorder,
    label: roll.volume.label ?? roll.volume.key,
    volume: roll.volume.key,
    roll: roll.id,
    connected: false,
    rests: restsAway(roll),
    reasons: roll.clearance.verdict === 'hold' ? roll.clearance.reasons.map(({ sentence }) => sentence) : [],
    secondsLeft: null,
    judgedAt: roll.clearance.judgedAt,
    summary: '',
  };
}

/** Why no verdict counts now, or null. Nobody who sleeps sees that a drive has changed. */
function sleepers(health: Status['health']): string | null {
  if (health.redis === 'away')
    return 'Redis does not answer, so nothing is known of it. Wait until the service has it back.';
  const names = (['watcher', 'worker'] as const).filter((name) => !health[name].alive);
  if (names.length === 0) return null;
  const verb = names.length === 1 ? 'gives' : 'give';
  return `The ${names.join(' and the ')} ${verb} no sign of life, so what is known of it may be out of date. See the log of the service.`;
}

function proofOf(roll: RollAnswer): string {
  const places = placesProven(roll).join(' and ');
  return `${countText(roll.fileCount, 'file')} proven${places === '' ? '' : ` at ${places}`}`;
}
