import type { DriveCard } from './drive-card.ts';
import { nameDrive } from './name-drive.ts';

/** What is said aloud when verdicts change: one sentence for each drive, or one for all when nothing is known any more. */
export function changedVerdicts(before: readonly DriveCard[], after: readonly DriveCard[]): string {
  const words = new Map(before.map(({ key, word }) => [key, word]));
  const changed = after.filter(({ key, word }) => words.get(key) !== word);
  const left = before.filter(({ key }) => after.every((card) => card.key !== key));
  const isAllUnknown = after.length > 1 && after.every(({ verdict }) => verdict === 'unknown' || verdict === 'away');
  if (isAllUnknown && changed.length > 1) return 'No verdict is known now. Record over no drive.';
  return [
    ...changed.map((card) => `${nameDrive(card, after)}: ${card.word}. ${card.answer}`),
    ...left.map((card) => `${nameDrive(card, before)} is not connected any more.`),
  ].join(' ');
}
