import type { JSX } from 'preact';
import type { Sureness } from '../picture/how-sure.ts';
import { showDuration } from '../words/show-duration.ts';

/** The name, how old the picture is, and the way out. */
export function PageHead({
  sureness,
  leave,
}: {
  readonly sureness: Sureness;
  readonly leave: (() => void) | null;
}): JSX.Element {
  const { isSure, ageMs, why } = sureness;
  return (
    <header class={isSure ? 'page-head' : 'page-head unsure'}>
      <p class="name">Quayside</p>
      <p class="age">
        <span aria-hidden="true">{isSure ? '●' : '○'}</span> {isSure ? 'Live' : 'Not live'}
        {ageMs === null ? '' : `, ${showDuration(ageMs / 1000)} old`}
      </p>
      {leave === null ? null : (
        <button type="button" class="plain" onClick={leave}>
          Sign out
        </button>
      )}
      <p class="trouble" role="alert">
        {isSure ? null : why}
      </p>
    </header>
  );
}
