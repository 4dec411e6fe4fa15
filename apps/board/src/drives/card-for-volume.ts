import { isVerdictOld, placesProven, type RollAnswer, type VolumeAnswer } from '@quayside/admin-api/page-answers';
import type { DriveLook } from '../picture/drive-look.ts';
import { showTimeLeft } from '../words/show-duration.ts';
import { listWords } from '../words/list-words.ts';
import { countOf, showSize } from '../words/show-size.ts';
import type { DriveCard } from './drive-card.ts';

/**
 * The card of a connected drive. `CLEAR` only when the look is sure, the drive has settled, its roll is the one that lies on it
 * now, and the verdict on that roll is `clear` and was renewed lately.
 */
export function cardForVolume(volume: VolumeAnswer, look: DriveLook, isSure: boolean): DriveCard {
  const roll = look.rolls.find(({ id }) => id === volume.rollId) ?? null;
  const card = hold(volume, roll);
  if (!isSure) return notKnown(card);
  if (volume.standing === 'empty')
    return {
      ...card,
      answer: 'It holds no file.',
      reasons: ['There is nothing to judge. If you formatted it yourself, record on it.'],
    };
  if (volume.standing === 'unreadable')
    return needsYou(card, [`It cannot be read (${volume.why ?? 'no reason given'}). Check the drive and its cable.`]);
  if (volume.standing !== 'settled') return { ...card, reasons: ['It is being looked at; wait until it has settled.'] };
  if (roll === null || roll.volume.key !== volume.key)
    return { ...card, reasons: ['It is being taken in; wait for the verdict.'] };
  if (roll.clearance.verdict === 'hold') return held(card, roll);
  if (!roll.drivePresent) return { ...card, reasons: ['It has just come back; wait for the verdict.'] };
  if (isVerdictOld(roll, look.serviceMs))
    return notKnown({
      ...card,
      reasons: ['Its verdict was not renewed for more than five minutes. See the log of the service.'],
    });
  return {
    ...card,
    verdict: 'clear',
    word: 'CLEAR',
    answer: 'Yes, you may record over it.',
    reasons: roll.clearance.cautions.map((caution) => `Caution: ${caution}`),
    judgedAt: roll.clearance.judgedAt,
    proof: proofOf(roll),
  };
}

function hold(volume: VolumeAnswer, roll: RollAnswer | null): DriveCard {
  return {
    key: volume.key,
    recorder: volume.recorder ?? '',
    label: volume.label ?? volume.key,
    verdict: 'hold',
    word: 'HOLD',
    answer: 'No, not yet.',
    needsYou: false,
    reasons: [],
    work: null,
    fraction: null,
    timeLeft: null,
    proof: null,
    judgedAt: null,
    rollId: roll?.id ?? null,
  };
}

function needsYou(card: DriveCard, reasons: readonly string[]): DriveCard {
  return { ...card, needsYou: true, answer: 'No. It needs you.', reasons };
}

/** The same drive when nothing about it is known now; no earlier verdict shines through. */
export function notKnown(card: DriveCard): DriveCard {
  return {
    ...card,
    verdict: 'unknown',
    word: 'NOT KNOWN',
    answer: 'Not known now. Do not record over it.',
    needsYou: false,
    work: null,
    fraction: null,
    timeLeft: null,
    proof: null,
    judgedAt: null,
  };
}

function held(card: DriveCard, roll: RollAnswer): DriveCard {
  const reasons = roll.clearance.verdict === 'hold' ? roll.clearance.reasons.map(({ sentence }) => sentence) : [];
  if (roll.activity === 'resting') return needsYou(card, reasons);
  const hasFailed = Object.values(roll.destinations).some(
    ({ failure, parcels }) => failure !== null || (parcels.failed ?? 0) > 0,
  );
  const { fraction, secondsLeft } = roll.progress;
  return {
    ...card,
    reasons,
    needsYou: hasFailed,
    work: WORK[roll.activity],
    // A whole bar beside HOLD would look like a yes.
    fraction: Math.min(fraction, 0.99),
    timeLeft: secondsLeft === null ? null : showTimeLeft(secondsLeft),
  };
}

const WORK = {
  waiting: 'waiting its turn',
  copying: 'copying',
  verifying: 'reading back',
  sealing: 'sealing',
  judging: 'judging',
  interrupted: 'interrupted',
  resting: 'at rest',
} as const satisfies Record<RollAnswer['activity'], string>;

function proofOf(roll: RollAnswer): string {
  const whole = placesProven(roll);
  const places = whole.length === 0 ? '' : ` at ${listWords(whole)}`;
  return `${countOf(roll.fileCount, 'file')}, ${showSize(roll.sizeInBytes)}, proven${places}`;
}
