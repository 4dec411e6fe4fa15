import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { changedVerdicts } from './changed-verdicts.ts';
import { ClaimDrive } from './claim-drive.tsx';
import type { DriveCard } from './drive-card.ts';
import { DriveRow } from './drive-row.tsx';
import type { UnclaimedDrive } from './unclaimed-drives.ts';
import type { Tally } from './tell-tally.ts';

/** The board itself: the question, the answer in two lines, and a line for each drive. Changes of a verdict are said aloud. */
export function DrivesView({
  cards,
  tally,
  unclaimed,
  recorders,
  isSure,
  lookedAt,
}: {
  readonly cards: readonly DriveCard[];
  readonly tally: Tally;
  readonly unclaimed: readonly UnclaimedDrive[];
  /** The names of the recorders that are known here. */
  readonly recorders: readonly string[];
  readonly isSure: boolean;
  /** When the look began that the cards are from: another number for each look. */
  readonly lookedAt: number;
}): JSX.Element {
  return (
    <section class="board" aria-labelledby="question">
      <h1 id="question">May I record over it?</h1>
      <p class="tally">
        {tally.yes === null ? null : <strong class="yes">{tally.yes}</strong>}
        {tally.no === null ? null : <strong class="no">{tally.no}</strong>}
      </p>
      {tally.yes === null ? null : <Expiry key={lookedAt} />}
      <SaidAloud cards={cards} />
      <h2 class="unseen">Drives</h2>
      <ul class="drives">
        {cards.map((card) => (
          <DriveRow key={`${card.key} ${card.rollId ?? ''}`} card={card} />
        ))}
      </ul>
      {unclaimed.map((drive) => (
        <ClaimDrive key={drive.key} drive={drive} recorders={recorders} isSure={isSure} />
      ))}
      <p class="caution">
        Look at the verdict of every drive, each time, before you record on it. Keep two copies on separate devices.
        Never format a drive that is on HOLD. Quayside advises; you decide.
      </p>
    </section>
  );
}

/**
 * Covers the board by itself some seconds after its look, unless the next look has replaced it: a page whose scripts hang or have
 * failed cannot take its yes back. The style sheet keeps the time.
 */
function Expiry(): JSX.Element {
  return (
    <p class="expiry" aria-hidden="true">
      NOT KNOWN: this page has stopped. Load it again.
    </p>
  );
}

function SaidAloud({ cards }: { readonly cards: readonly DriveCard[] }): JSX.Element {
  const before = useRef<readonly DriveCard[]>([]);
  const [said, say] = useState('');
  useEffect(() => {
    const sentence = changedVerdicts(before.current, cards);
    before.current = cards;
    if (sentence !== '') say(sentence);
  }, [cards]);
  return (
    <p class="unseen" role="status" aria-live="polite">
      {said}
    </p>
  );
}
