import type { JSX } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { ActButton } from '../page/act-button.tsx';
import { useActs } from '../page/use-acts.ts';
import type { UnclaimedDrive } from './unclaimed-drives.ts';

/** A drive that is nobody's: what it is, and a way to say whose, which asks once more before it is done. */
export function ClaimDrive({
  drive,
  recorders,
  isSure,
}: {
  readonly drive: UnclaimedDrive;
  /** Those that the page has seen, to choose from; the service knows all. */
  readonly recorders: readonly string[];
  /** False while the picture is old: then nobody should act on it. */
  readonly isSure: boolean;
}): JSX.Element {
  return (
    <div class="unclaimed">
      <p>
        <strong>
          Whose drive is <bdi>{drive.name}</bdi>?
        </strong>{' '}
        Nothing of it is copied until you say so.{' '}
        <span class="quiet">
          (<bdi>{drive.what}</bdi>)
        </span>
      </p>
      {isSure ? (
        <Claim drive={drive} recorders={recorders} />
      ) : (
        <p class="quiet">Not known whether it is still there.</p>
      )}
    </div>
  );
}

function Claim({
  drive,
  recorders,
}: {
  readonly drive: UnclaimedDrive;
  readonly recorders: readonly string[];
}): JSX.Element {
  const { acts } = useActs();
  const list = useId();
  const [recorder, setRecorder] = useState('');
  const [isAsking, ask] = useState(false);
  const no = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (isAsking) no.current?.focus();
  }, [isAsking]);
  const named = recorder.trim();
  if (isAsking)
    return (
      <div class="confirm" role="group" aria-label={`Is ${drive.name} the drive of ${named}?`}>
        <p>
          All that is on <bdi>{drive.name}</bdi> will be copied as the footage of <bdi>{named}</bdi>. Is it its drive?
        </p>
        <button type="button" ref={no} onClick={() => ask(false)}>
          No
        </button>
        <ActButton words={`Yes, it is ${named}’s`} about={drive.name} act={() => acts.assign(drive.key, named)} />
      </div>
    );
  return (
    <form
      class="claim"
      onSubmit={(event) => {
        event.preventDefault();
        if (named !== '') ask(true);
      }}
    >
      <label>
        Recorder of <bdi>{drive.name}</bdi>
        <input
          value={recorder}
          list={list}
          maxLength={64}
          required
          autocomplete="off"
          onInput={(event) => setRecorder(event.currentTarget.value)}
        />
      </label>
      <datalist id={list}>
        {recorders.map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
      <button type="submit">Say whose it is</button>
    </form>
  );
}
