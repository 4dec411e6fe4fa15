import type { JSX } from 'preact';
import { useEffect, useErrorBoundary, useMemo, useRef, useState } from 'preact/hooks';
import { SignInView } from '../access/sign-in-view.tsx';
import { type BoardState, NOTHING_KNOWN } from '../picture/board-state.ts';
import type { Store } from '../picture/store.ts';
import { actsOn } from '../service/act.ts';
import type { Service } from '../service/call-service.ts';
import { askForAccess } from '../service/ask-for-access.ts';
import { keepLooking, type Looking } from '../service/keep-looking.ts';
import { keptKey, signOut } from '../service/sign-in.ts';
import { BoardPage } from './board-page.tsx';
import { FailedView } from './failed-view.tsx';
import { keepPerson, keptPerson } from './person.ts';
import { ActsContext } from './use-acts.ts';
import { momentNow } from './use-now.ts';
import { useStore } from './use-store.ts';

/** The page: the sign-in, or the board, which looks at the service as long as it is shown. */
export function App({ service, store }: { readonly service: Service; readonly store: Store<BoardState> }): JSX.Element {
  const [fault] = useErrorBoundary();
  const state = useStore(store);
  const looking = useRef<Looking | null>(null);
  const [person, setPerson] = useState(keptPerson());
  const acting = useMemo(
    () => ({
      acts: lookingAgainAfter(actsOn(service), () => looking.current?.lookAgain()),
      person,
      setPerson(name: string) {
        keepPerson(name);
        setPerson(name);
      },
    }),
    [service, person],
  );
  const isOut = state.access === 'signed-out';
  const mayLook = state.access === 'signed-in';
  useEffect(() => {
    if (state.access === 'asking') void askForAccess(service, store);
  }, [state.access, service, store]);
  useEffect(() => {
    if (!mayLook) return;
    const stop = new AbortController();
    looking.current = keepLooking({ service, store, now: momentNow }, stop.signal);
    const lookAgain = (): void => looking.current?.lookAgain();
    document.addEventListener('visibilitychange', lookAgain);
    return () => {
      stop.abort();
      document.removeEventListener('visibilitychange', lookAgain);
    };
  }, [mayLook, service, store]);

  if (fault !== undefined) return <FailedView />;
  if (isOut) return <SignInView signedIn={() => store.change({ ...NOTHING_KNOWN, access: 'signed-in' })} />;
  const leave = async (): Promise<void> => {
    await signOut(service).catch(() => undefined);
    store.change({ ...NOTHING_KNOWN, access: 'signed-out' });
  };
  return (
    <ActsContext.Provider value={acting}>
      <BoardPage
        state={state}
        choose={(id) => {
          store.change({ chosen: id });
          looking.current?.lookAgain();
        }}
        leave={keptKey() === null ? null : () => void leave()}
      />
    </ActsContext.Provider>
  );
}

type Doing = ReturnType<typeof actsOn>;

function lookingAgainAfter(acts: Doing, lookAgain: () => void): Doing {
  return {
    retry: (rollId) => acts.retry(rollId).finally(lookAgain),
    judge: (rollId) => acts.judge(rollId).finally(lookAgain),
    retryRun: (runId) => acts.retryRun(runId).finally(lookAgain),
    assign: (volumeKey, recorder) => acts.assign(volumeKey, recorder).finally(lookAgain),
    acknowledge: (shootId, findingId, seen) => acts.acknowledge(shootId, findingId, seen).finally(lookAgain),
  };
}
