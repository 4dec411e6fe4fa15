import type { JSX } from 'preact';
import { showTime } from '../words/show-moment.ts';
import type { DriveCard } from './drive-card.ts';
import { VerdictShape } from './verdict-shape.tsx';

/** One line of the board: whose drive, the verdict, and what it rests on or waits for. */
export function DriveRow({ card }: { readonly card: DriveCard }): JSX.Element {
  const [first, ...more] = card.reasons;
  return (
    <li class={`drive ${card.verdict}${card.needsYou ? ' needs-you' : ''}`}>
      <VerdictShape verdict={card.verdict} />
      <div class="whose">
        <h3>{card.recorder}</h3>
        {card.label.toLowerCase() === card.recorder.toLowerCase() ? null : (
          <p class="label">
            drive <bdi>{card.label}</bdi>
          </p>
        )}
      </div>
      <div class="verdict">
        <p class="word">{card.word}</p>
        <p class="answer">{card.answer}</p>
      </div>
      <div class="why">
        {card.proof === null ? null : (
          <p>
            {card.proof}
            {card.judgedAt === null ? '' : `, judged at ${showTime(card.judgedAt)}`}.
          </p>
        )}
        {card.fraction === null ? null : <Work card={card} fraction={card.fraction} />}
        {first === undefined ? null : (
          <p>
            <bdi>{first}</bdi>
          </p>
        )}
        {more.length === 0 ? null : (
          <details>
            <summary>and {more.length} more</summary>
            <ul>
              {more.map((reason) => (
                <li key={reason}>
                  <bdi>{reason}</bdi>
                </li>
              ))}
            </ul>
          </details>
        )}
      </div>
    </li>
  );
}

function Work({ card, fraction }: { readonly card: DriveCard; readonly fraction: number }): JSX.Element {
  const percent = Math.floor(fraction * 100);
  return (
    <div class="work">
      <p class="time-left">{card.timeLeft ?? (card.work === 'interrupted' ? 'Interrupted' : 'Time left not known')}</p>
      <progress value={percent} max={100} aria-label={`Work done for ${card.recorder}`} />
      <p class="quiet">
        {card.work === 'interrupted' ? '' : `${card.work}, `}
        {percent} %
      </p>
    </div>
  );
}
