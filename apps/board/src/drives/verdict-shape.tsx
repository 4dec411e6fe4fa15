import type { JSX } from 'preact';
import type { CardVerdict } from './drive-card.ts';

/** Each verdict has a shape of its own, so that it is told apart without colours: a filled round tick, a barred square, an open diamond, an open ring. */
export function VerdictShape({ verdict }: { readonly verdict: CardVerdict }): JSX.Element {
  return (
    <svg class={`shape ${verdict}`} viewBox="0 0 48 48" aria-hidden="true" focusable="false">
      {SHAPES[verdict]}
    </svg>
  );
}

const SHAPES: Readonly<Record<CardVerdict, JSX.Element>> = {
  clear: (
    <>
      <circle cx="24" cy="24" r="22" class="body" />
      <path d="M13 25l8 8 15-17" class="mark" />
    </>
  ),
  hold: (
    <>
      <rect x="3" y="3" width="42" height="42" rx="4" class="body" />
      <path d="M12 24h24" class="mark" />
    </>
  ),
  unknown: (
    <>
      <path d="M24 3l21 21-21 21L3 24z" class="outline" />
      <path d="M18.5 19.5a5.5 5.5 0 1 1 7.5 5c-1.5.6-2 1.4-2 3.5M24 33.5v.6" class="line" />
    </>
  ),
  away: (
    <>
      <circle cx="24" cy="24" r="20" class="outline" />
      <path d="M15 24h18M27 18l6 6-6 6" class="line" />
    </>
  ),
};
