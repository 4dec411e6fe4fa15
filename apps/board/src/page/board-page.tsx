import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import { driveCards } from '../drives/drive-cards.ts';
import { DrivesView } from '../drives/drives-view.tsx';
import { tellTally } from '../drives/tell-tally.ts';
import { recordersIn, unclaimedDrives } from '../drives/unclaimed-drives.ts';
import { FindingsView } from '../findings/findings-view.tsx';
import { MessagesView } from '../messages/messages-view.tsx';
import type { BoardState } from '../picture/board-state.ts';
import { howSure, sureWhenShown } from '../picture/how-sure.ts';
import { ProxiesView } from '../proxies/proxies-view.tsx';
import { RollsView } from '../rolls/rolls-view.tsx';
import { RunsView } from '../runs/runs-view.tsx';
import { ShootView } from '../shoots/shoot-view.tsx';
import { PageHead } from './page-head.tsx';
import { useNow } from './use-now.ts';

/** The whole page for someone who is signed in. What it says of the drives is worked out anew each second. */
export function BoardPage({
  state,
  choose,
  leave,
}: {
  readonly state: BoardState;
  readonly choose: (id: string) => void;
  readonly leave: (() => void) | null;
}): JSX.Element {
  const { now, isShown } = useNow();
  const sureness = sureWhenShown(howSure(state.drives, state.link, now), isShown);
  const { drives, shoot } = state;
  const { isSure } = sureness;
  const cards = useMemo(() => (drives === null ? [] : driveCards(drives, isSure)), [drives, isSure]);
  const tally = tellTally(cards, isSure);
  useEffect(() => {
    document.title = `${tally.title} · Quayside`;
  }, [tally.title]);
  return (
    <>
      <PageHead sureness={sureness} leave={leave} />
      <main>
        <DrivesView
          cards={cards}
          tally={tally}
          unclaimed={drives === null ? [] : unclaimedDrives(drives)}
          recorders={drives === null ? [] : recordersIn(drives)}
          isSure={isSure}
          lookedAt={drives?.begunAt.steady ?? 0}
        />
        {drives?.health.cautions.map((caution) => (
          <p key={caution} class="failure">
            ▲ {caution}
          </p>
        ))}
        {isSure ? null : (
          <p class="old">What follows is how it stood at the last look. Only the lines above answer for now.</p>
        )}
        <div class="panels">
          <ShootView shoots={state.shoots} look={shoot} trouble={state.shootTrouble} choose={choose} />
          {shoot === null ? null : (
            <>
              <div class="column">
                <FindingsView shootId={shoot.shoot.id} findings={shoot.findings} />
              </div>
              <div class="column">
                <RollsView look={shoot} />
                <RunsView work={shoot.work} />
                <ProxiesView work={shoot.work} />
              </div>
            </>
          )}
          <div class="column">
            <MessagesView messages={state.messages} />
          </div>
        </div>
      </main>
    </>
  );
}
