import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Group } from '../service/look-at-shoot.ts';
import { syncMap, type TakeBar, type TakeColumn } from './take-columns.ts';

const SHOWN_TAKES = 12;

/** The takes of a shoot by recorder over time: a table, so that it reads the same to ear and eye. */
export function SyncMapView({
  groups,
  recorders,
  isCurrent,
}: {
  readonly groups: readonly Group[];
  readonly recorders: readonly string[];
  readonly isCurrent: boolean;
}): JSX.Element {
  const [isWhole, showWhole] = useState(false);
  const map = syncMap(groups, recorders);
  const takes = isWhole ? map.takes : map.takes.slice(-SHOWN_TAKES);
  if (takes.length === 0)
    return <p class="quiet">No takes yet. They show as soon as the clips of a drive have been looked into.</p>;
  return (
    <>
      <div class="scrolls" tabIndex={0} role="region" aria-label="Sync map">
        <table class="sync-map">
          <thead>
            <tr>
              <th scope="col">
                <span class="unseen">Recorder</span>
              </th>
              {takes.map((take) => (
                <TakeHead key={take.id} take={take} />
              ))}
            </tr>
          </thead>
          <tbody>
            {map.recorders.map((recorder) => (
              <tr key={recorder}>
                <th scope="row">{recorder}</th>
                {takes.map((take) => (
                  <td key={take.id}>
                    <Bars bars={take.bars.get(recorder) ?? []} />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {isCurrent ? null : <p class="quiet">Newer clips are still being looked into.</p>}
      {map.takes.length > takes.length ? (
        <button type="button" onClick={() => showWhole(true)}>
          Show all {map.takes.length} takes
        </button>
      ) : null}
    </>
  );
}

function TakeHead({ take }: { readonly take: TakeColumn }): JSX.Element {
  return (
    <th scope="col" class="take" style={{ minWidth: `${Math.round(8 + Math.min(Math.sqrt(take.seconds) / 3, 10))}em` }}>
      <span class="take-number">Take {take.number}</span>
      <span class="take-when">
        {take.timecode}, {take.length}
      </span>
      <span class={take.isEditable ? 'take-editable' : 'take-waits'}>
        {take.isEditable ? '✓ ' : '… '}
        {take.editable}
      </span>
    </th>
  );
}

function Bars({ bars }: { readonly bars: readonly TakeBar[] }): JSX.Element {
  if (bars.length === 0) return <span class="missing">not in it</span>;
  return (
    <span class="lane">
      {bars.map((bar) => (
        <span
          key={bar.from}
          class={bar.isWeak ? 'bar weak' : 'bar'}
          style={{ left: `${bar.from * 100}%`, width: `${Math.max(bar.to - bar.from, 0.02) * 100}%` }}
          title={bar.words}
        >
          <span class="unseen">{bar.words}</span>
        </span>
      ))}
    </span>
  );
}
