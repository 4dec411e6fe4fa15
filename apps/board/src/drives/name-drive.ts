import type { DriveCard } from './drive-card.ts';

/** What a drive is called where few words must do: its recorder, with the label where that has several drives on the board. */
export function nameDrive({ key, recorder, label }: DriveCard, cards: readonly DriveCard[]): string {
  const isAlone = cards.every((card) => card.key === key || card.recorder !== recorder);
  return isAlone ? recorder : `${recorder} (${label})`;
}
