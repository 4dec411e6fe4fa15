import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { sentenceOf } from '../service/service-trouble.ts';

/** A button that does something at the service and tells, aloud too, what came of it. Pressed twice it asks once. */
export function ActButton({
  words,
  about,
  act,
}: {
  readonly words: string;
  /** What it acts on, for those who hear the button out of its place. */
  readonly about: string;
  readonly act: () => Promise<string>;
}): JSX.Element {
  const [isBusy, setBusy] = useState(false);
  const [outcome, tell] = useState('');
  const press = async (): Promise<void> => {
    if (isBusy) return;
    setBusy(true);
    tell('');
    tell(await act().catch(sentenceOf));
    setBusy(false);
  };
  return (
    <span class="act">
      <button type="button" aria-label={`${words}: ${about}`} aria-disabled={isBusy} onClick={() => void press()}>
        {words}
      </button>
      <span role="status" class="outcome">
        {isBusy ? 'Asking …' : outcome}
      </span>
    </span>
  );
}
