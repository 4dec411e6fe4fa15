import type { Finding } from '../service/look-at-shoot.ts';
import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { ActButton } from '../page/act-button.tsx';
import { useActs } from '../page/use-acts.ts';
import { showDay } from '../words/show-moment.ts';
import { sortFindings, subjectOf } from './sort-findings.ts';

const SHOWN = 8;
const WORDS = { critical: '▲ Critical', warning: '◆ Warning', info: '● Note' } as const;

/** What a person must know of a shoot: what nobody has seen yet stands first. */
export function FindingsView({
  shootId,
  findings,
}: {
  readonly shootId: string;
  readonly findings: readonly Finding[];
}): JSX.Element {
  const [isWhole, showWhole] = useState(false);
  const sorted = sortFindings(findings);
  const shown = isWhole ? sorted : sorted.slice(0, SHOWN);
  const open = sorted.filter(({ acknowledged }) => acknowledged === null).length;
  return (
    <section class="panel" aria-labelledby="findings">
      <h2 id="findings">
        Findings{' '}
        <span class="count">{findings.length === 0 ? 'none' : open === 0 ? 'all seen' : `${open} not seen yet`}</span>
      </h2>
      {findings.length === 0 ? <p class="quiet">Nothing is amiss.</p> : null}
      <ul class="findings">
        {shown.map((finding) => (
          <Finding key={finding.id} shootId={shootId} finding={finding} />
        ))}
      </ul>
      {sorted.length > shown.length ? (
        <button type="button" onClick={() => showWhole(true)}>
          Show all {sorted.length} findings
        </button>
      ) : null}
    </section>
  );
}

function Finding({ shootId, finding }: { readonly shootId: string; readonly finding: Finding }): JSX.Element {
  const { severity, acknowledged } = finding;
  return (
    <li class={`finding ${severity}${acknowledged === null ? '' : ' seen'}`}>
      <p class="finding-head">
        <strong>{WORDS[severity]}</strong> <code>{finding.code}</code>{' '}
        <span class="quiet">
          <bdi>{subjectOf(finding)}</bdi>
        </span>
      </p>
      <p>
        <bdi>{finding.why}</bdi>
      </p>
      <p class="remedy">
        <bdi>{finding.remedy}</bdi>
      </p>
      {acknowledged === null ? (
        <Acknowledge shootId={shootId} finding={finding} />
      ) : (
        <p class="quiet">
          Seen by <bdi>{acknowledged.by}</bdi>, {showDay(acknowledged.at)}
          {acknowledged.note === '' ? '' : ': '}
          <bdi>{acknowledged.note}</bdi>
        </p>
      )}
    </li>
  );
}

function Acknowledge({ shootId, finding }: { readonly shootId: string; readonly finding: Finding }): JSX.Element {
  const { acts, person, setPerson } = useActs();
  const [note, setNote] = useState('');
  return (
    <details class="acknowledge">
      <summary>I have seen it</summary>
      <div class="fields">
        <label>
          Your name
          <input value={person} maxLength={200} onInput={(event) => setPerson(event.currentTarget.value)} />
        </label>
        <label>
          Note, if any
          <input value={note} maxLength={2000} onInput={(event) => setNote(event.currentTarget.value)} />
        </label>
        <ActButton
          words="Acknowledge"
          about={`${finding.code}, ${subjectOf(finding)}`}
          act={async () => {
            if (person.trim() === '') return 'Write your name first.';
            await acts.acknowledge(shootId, finding.id, { by: person.trim(), note });
            return 'Noted.';
          }}
        />
      </div>
    </details>
  );
}
