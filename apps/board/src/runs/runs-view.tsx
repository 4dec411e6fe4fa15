import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { ActButton } from '../page/act-button.tsx';
import { useActs } from '../page/use-acts.ts';
import type { Run, WorkLook } from '../service/look-at-work.ts';
import { countOf } from '../words/show-size.ts';

/** The runs of plugins that failed, each with a way to try it again, and those under way. Nothing where there are neither. */
export function RunsView({ work }: { readonly work: WorkLook }): JSX.Element | null {
  const { failed, running } = work;
  // What is tried again leaves the list at once; what was said of it stays.
  const [said, say] = useState('');
  if (failed.length + running.length === 0 && said === '') return null;
  return (
    <section class="panel" aria-labelledby="runs">
      <h2 id="runs">
        Plugins{' '}
        <span class="count">
          {failed.length > 0 ? `${failed.length} failed` : running.length > 0 ? `${running.length} at work` : ''}
        </span>
      </h2>
      <p class="quiet">No verdict waits for them.</p>
      <ul class="lines">
        {failed.map((run) => (
          <Failed key={run.id} run={run} say={say} />
        ))}
      </ul>
      <p role="status" class="outcome">
        {said}
      </p>
      {running.length === 0 ? null : (
        <p class="quiet">
          {countOf(running.length, 'run')} under way: {[...new Set(running.map(({ step }) => step))].join(', ')}.
        </p>
      )}
    </section>
  );
}

function Failed({ run, say }: { readonly run: Run; readonly say: (sentence: string) => void }): JSX.Element {
  const { acts } = useActs();
  return (
    <li class="line">
      <p>
        <strong>{run.step}</strong>{' '}
        <span class="path">
          <bdi>{run.subject.id}</bdi>
        </span>
      </p>
      <p class="failure">
        ▲ <bdi>{run.failure?.sentence ?? run.why}</bdi>
      </p>
      <ActButton
        words="Try again"
        about={`${run.step} on ${run.subject.id}`}
        act={async () => {
          say(await acts.retryRun(run.id));
          return '';
        }}
      />
    </li>
  );
}
