import type { JSX } from 'preact';
import { ActButton } from '../page/act-button.tsx';
import { useActs } from '../page/use-acts.ts';
import type { ShootLook } from '../service/look-at-shoot.ts';
import { rollLine, type RollLine } from './roll-line.ts';

const SHOWN = 24;

/** The rolls of a shoot, with what failed and a way to try it again. */
export function RollsView({ look }: { readonly look: ShootLook }): JSX.Element {
  const lines = look.shoot.rolls.map((roll) => rollLine(roll, look.details.get(roll.id) ?? null));
  // What may need a person first; among equals the newest, as the service gives them.
  const shown = lines.toSorted((one, other) => Number(other.canRetry) - Number(one.canRetry)).slice(0, SHOWN);
  return (
    <section class="panel" aria-labelledby="rolls">
      <h2 id="rolls">
        Rolls <span class="count">{look.shoot.rolls.length}</span>
      </h2>
      {lines.length === 0 ? <p class="quiet">No roll has come in yet.</p> : null}
      <ul class="rolls">
        {shown.map((line) => (
          <Roll key={line.id} line={line} />
        ))}
      </ul>
      {lines.length > shown.length ? <p class="quiet">and {lines.length - shown.length} older ones</p> : null}
    </section>
  );
}

function Roll({ line }: { readonly line: RollLine }): JSX.Element {
  const { acts } = useActs();
  return (
    <li class="roll">
      <p class="roll-head">
        <strong>{line.recorder}</strong> <code>{line.id}</code>{' '}
        <span class="quiet">
          {line.activity}, {line.size}
          {line.isDrivePresent ? '' : ', drive not connected'}
        </span>
      </p>
      <p class="quiet">
        Last verdict: {line.verdict}. {line.places.join('; ')}.
      </p>
      {line.failures.map((sentence) => (
        <p key={sentence} class="failure">
          ▲ <bdi>{sentence}</bdi>
        </p>
      ))}
      {line.failedRuns.length === 0 ? null : (
        <details>
          <summary>{line.failedRuns.length} runs failed</summary>
          <ul class="lines">
            {line.failedRuns.map(({ id, what }) => (
              <li key={id} class="line">
                <p>
                  <bdi>{what}</bdi>
                </p>
                <ActButton words="Try this again" about={what} act={() => acts.retryRun(id)} />
              </li>
            ))}
          </ul>
        </details>
      )}
      {line.canRetry ? <ActButton words="Try again" about={`roll ${line.id}`} act={() => acts.retry(line.id)} /> : null}
      {line.canJudge ? (
        <ActButton words="Judge again" about={`roll ${line.id}`} act={() => acts.judge(line.id)} />
      ) : null}
    </li>
  );
}
