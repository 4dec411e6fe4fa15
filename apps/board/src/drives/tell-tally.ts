import { listWords } from '../words/list-words.ts';
import type { DriveCard } from './drive-card.ts';
import { nameDrive } from './name-drive.ts';

/** The whole board in two lines, for a glance: which drives may be recorded over, and which not. */
export interface Tally {
  readonly yes: string | null;
  readonly no: string | null;
  /** For the tab of the browser. */
  readonly title: string;
}

/** Counts only what is connected or left too early; a drive that left proven is neither a yes nor a no. */
export function tellTally(cards: readonly DriveCard[], isSure: boolean): Tally {
  if (!isSure) return { yes: null, no: 'Not known now. Record over no drive.', title: 'Not known now' };
  const judged = cards.filter(({ verdict }) => verdict !== 'away');
  if (judged.length === 0) return { yes: null, no: 'No drive is connected.', title: 'No drive' };
  const clear = judged.filter(({ verdict }) => verdict === 'clear');
  const others = judged.filter(({ verdict }) => verdict !== 'clear');
  const nameOf = (card: DriveCard): string => nameDrive(card, cards);
  return {
    yes: clear.length === 0 ? null : `Yes: ${listWords(clear.map(nameOf))}`,
    no: others.length === 0 ? null : `No: ${listWords(others.map(nameOf))}`,
    title: `${clear.length} of ${judged.length} clear`,
  };
}
