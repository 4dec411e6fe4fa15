import { restsAway, type RollAnswer } from '@quayside/admin-api/page-answers';
import type { DriveLook } from '../picture/drive-look.ts';
import { countOf } from '../words/show-size.ts';
import { showDay } from '../words/show-moment.ts';
import { cardForVolume, notKnown } from './card-for-volume.ts';
import type { DriveCard } from './drive-card.ts';

/** After this long a drive that left proven is no longer listed. */
const FORGET_AWAY_AFTER_MS = 24 * 60 * 60_000;

/**
 * One card for each connected drive that has a recorder, for each drive that left before it was proven, and, so that nobody
 * takes a drive that has left for one that may be recorded over, for the last drive of each recorder that left proven.
 */
export function driveCards(look: DriveLook, isSure: boolean): readonly DriveCard[] {
  const claimed = look.connected.filter(({ recorder }) => recorder !== null);
  const present = claimed.map((volume) => cardForVolume(volume, look, isSure));
  const connectedKeys = new Set(look.connected.map(({ key }) => key));
  const away = look.rolls.filter((roll) => !roll.drivePresent && !connectedKeys.has(roll.volume.key));
  const early = newestOfEachDrive(away.filter((roll) => roll.clearance.verdict === 'hold' && !restsAway(roll)));
  const recorders = new Set(
    [...present, ...early.map(({ recorder }) => ({ recorder }))].map(({ recorder }) => recorder),
  );
  const proven = newestOfEachRecorder(
    away.filter((roll) => roll.clearance.verdict === 'clear' || restsAway(roll)),
  ).filter(
    (roll) => !recorders.has(roll.recorder) && look.serviceMs - Date.parse(roll.changedAt) < FORGET_AWAY_AFTER_MS,
  );
  const cards = [...present, ...early.map((roll) => leftTooEarly(roll, isSure)), ...proven.map(leftProven)];
  return cards.toSorted((one, other) => compare(one.recorder, other.recorder) || compare(one.key, other.key));
}

function leftTooEarly(roll: RollAnswer, isSure: boolean): DriveCard {
  const card: DriveCard = {
    ...awayCard(roll),
    verdict: 'hold',
    word: 'HOLD',
    answer: 'No. It left too early.',
    needsYou: true,
    reasons: roll.clearance.verdict === 'hold' ? roll.clearance.reasons.map(({ sentence }) => sentence) : [],
    work: 'interrupted',
    fraction: Math.min(roll.progress.fraction, 0.99),
  };
  return isSure ? card : notKnown({ ...card, reasons: [] });
}

function leftProven(roll: RollAnswer): DriveCard {
  return {
    ...awayCard(roll),
    verdict: 'away',
    word: 'AWAY',
    answer: 'Not connected.',
    reasons: [
      roll.clearance.verdict === 'clear'
        ? `${countOf(roll.fileCount, 'file')} proven when it left (${showDay(roll.changedAt)}). What was recorded on it since is not.`
        : 'All that is known of it is proven by now. Connect it again to have the verdict.',
    ],
  };
}

function awayCard(roll: RollAnswer): Omit<DriveCard, 'verdict' | 'word' | 'answer'> {
  return {
    key: roll.volume.key,
    recorder: roll.recorder,
    label: roll.volume.label ?? roll.volume.key,
    needsYou: false,
    reasons: [],
    work: null,
    fraction: null,
    timeLeft: null,
    proof: null,
    judgedAt: null,
    rollId: roll.id,
  };
}

function newestOfEachDrive(rolls: readonly RollAnswer[]): readonly RollAnswer[] {
  return newestBy(rolls, ({ volume }) => volume.key);
}

function newestOfEachRecorder(rolls: readonly RollAnswer[]): readonly RollAnswer[] {
  return newestBy(rolls, ({ recorder }) => recorder);
}

function newestBy(rolls: readonly RollAnswer[], keyOf: (roll: RollAnswer) => string): readonly RollAnswer[] {
  const oldestFirst = rolls.toSorted((one, other) => compare(one.changedAt, other.changedAt));
  return [...new Map(oldestFirst.map((roll) => [keyOf(roll), roll])).values()];
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
