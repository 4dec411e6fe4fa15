import type { JSX } from 'preact';
import { SyncMapView } from '../takes/sync-map-view.tsx';
import type { Shoot, ShootLook } from '../service/look-at-shoot.ts';
import { countOf } from '../words/show-size.ts';

/** The shoots to choose from, and the sync map of the chosen one. */
export function ShootView({
  shoots,
  look,
  trouble,
  choose,
}: {
  readonly shoots: readonly Shoot[];
  readonly look: ShootLook | null;
  readonly trouble: string | null;
  readonly choose: (id: string) => void;
}): JSX.Element {
  const id = look?.shoot.id ?? '';
  return (
    <section class="panel shoot" aria-labelledby="shoot">
      <div class="shoot-head">
        <h2 id="shoot">
          Shoot <bdi>{look?.shoot.name ?? ''}</bdi>
        </h2>
        {shoots.length < 2 ? null : (
          <label>
            <span class="unseen">Shoot to show</span>
            <select value={id} onChange={(event) => choose(event.currentTarget.value)}>
              {shoots.map((shoot) => (
                <option key={shoot.id} value={shoot.id}>
                  {shoot.name}: {countOf(shoot.rollCount, 'roll')}, {shoot.holdCount} on hold
                  {shoot.closedAt === null ? '' : ', closed'}
                </option>
              ))}
            </select>
          </label>
        )}
        {look === null ? null : (
          <p class="quiet">
            {countOf(look.shoot.rollCount, 'roll')}, {look.shoot.clearCount} clear, {look.shoot.holdCount} on hold at
            their last verdict{look.shoot.closedAt === null ? '' : '; closed'}
          </p>
        )}
      </div>
      {trouble === null ? null : <p class="failure">▲ This part is old: {trouble}</p>}
      {look === null ? (
        <p class="quiet">There is no shoot yet; one opens when the first drive with footage is connected.</p>
      ) : (
        <>
          <h3>What ran together</h3>
          <SyncMapView
            groups={look.groups}
            recorders={[...new Set(look.shoot.rolls.map(({ recorder }) => recorder))]}
            isCurrent={look.groupsAreCurrent}
          />
        </>
      )}
    </section>
  );
}
