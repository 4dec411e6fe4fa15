import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { WorkLook } from '../service/look-at-work.ts';
import { type ProxyLine, proxyLines, proxyTotals } from './proxy-lines.ts';

const SHOWN = 8;

/** The proxies of a shoot: what is planned, and what became of each clip's. Nothing while no plan was made. */
export function ProxiesView({ work }: { readonly work: WorkLook }): JSX.Element | null {
  const [isWhole, showWhole] = useState(false);
  const totals = proxyTotals(work.plan);
  if (totals === null) return null;
  const lines = proxyLines(work.plan, work.rendering);
  const shown = isWhole ? lines : lines.slice(0, SHOWN);
  const made = work.rendering.filter(({ state }) => state === 'done').length;
  return (
    <section class="panel" aria-labelledby="proxies">
      <h2 id="proxies">
        Proxies <span class="count">{lines.length === 0 ? 'none' : `${made} made`}</span>
      </h2>
      <p>{totals}</p>
      {work.plan.isCurrent ? null : <p class="quiet">They are being planned anew.</p>}
      <ul class="lines">
        {shown.map((line) => (
          <Line key={line.clipId} line={line} />
        ))}
      </ul>
      {lines.length > shown.length ? (
        <button type="button" onClick={() => showWhole(true)}>
          Show all {lines.length} clips
        </button>
      ) : null}
    </section>
  );
}

function Line({ line }: { readonly line: ProxyLine }): JSX.Element {
  return (
    <li class="line">
      <p>
        <strong>{line.recorder}</strong>{' '}
        <span class="path">
          <bdi>{line.path}</bdi>
        </span>
        : {line.isAmiss ? '▲ ' : ''}
        {line.state}
      </p>
      {line.why === null ? null : (
        <p class="quiet">
          <bdi>{line.why}</bdi>
        </p>
      )}
    </li>
  );
}
