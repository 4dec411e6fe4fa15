import { followEvents, lastEvents, type ServiceEvent } from '@quayside/api-client';
import { type BoardState, rollsAway } from '../picture/board-state.ts';
import type { Moment } from '../picture/moment.ts';
import type { Store } from '../picture/store.ts';
import type { Service } from './call-service.ts';
import { inRounds } from './in-rounds.ts';
import { lookAtDrives } from './look-at-drives.ts';
import { lookAtShoot, lookAtShoots } from './look-at-shoot.ts';
import { isSignedOut, sentenceOf } from './service-trouble.ts';

const DRIVES_EVERY_MS = 3_000;
const SHOOT_EVERY_MS = 30_000;
const ROLLS_AWAY_EVERY_MS = 30_000;
const TRY_AGAIN_AFTER_MS = 1_000;
const MESSAGES = 60;
const LOOK_BACK_MS = 12 * 60 * 60_000;

export interface Looking {
  /** Looks at everything again, soon. */
  lookAgain(): void;
}

/**
 * Keeps the picture new until the signal aborts: a look at the drives every three seconds and whenever an event says that
 * something happened, a look at the shoot after events. A look that fails makes the picture `lost` at once.
 */
export function keepLooking(
  { service, store, now }: { readonly service: Service; readonly store: Store<BoardState>; readonly now: () => Moment },
  signal: AbortSignal,
): Looking {
  let rollsAwayAt = -Infinity;

  const drives = inRounds(
    async () => {
      const begunAt = now();
      // The first picture is of the drives that are there; those that are not follow at once.
      const isFirst = store.get().drives === null;
      const isRollsDue = !isFirst && begunAt.steady - rollsAwayAt > ROLLS_AWAY_EVERY_MS;
      try {
        const look = await lookAtDrives(service, isRollsDue ? null : rollsAway(store.get()), begunAt);
        if (isFirst) drives.wish();
        if (isRollsDue) rollsAwayAt = begunAt.steady;
        if (!signal.aborted) store.change({ drives: look, link: { state: 'live' } });
      } catch (error) {
        if (!signal.aborted) lose(store, error);
      }
    },
    { everyMs: DRIVES_EVERY_MS, settleMs: 120 },
    signal,
  );

  const shoot = inRounds(
    async () => {
      try {
        const shoots = await lookAtShoots(service);
        const id = shoots.find((one) => one.id === store.get().chosen)?.id ?? shoots[0]?.id;
        const look = id === undefined ? null : await lookAtShoot(service, id);
        if (!signal.aborted) store.change({ shoots, shoot: look, shootTrouble: null });
      } catch (error) {
        if (!signal.aborted) store.change({ shootTrouble: sentenceOf(error) });
      }
    },
    { everyMs: SHOOT_EVERY_MS, settleMs: 600 },
    signal,
  );

  const lookAgain = (): void => {
    rollsAwayAt = -Infinity;
    drives.wish();
    shoot.wish();
  };

  void hearEvents(
    service,
    (events) => {
      store.change({ messages: [...events.toReversed(), ...store.get().messages].slice(0, MESSAGES) });
      lookAgain();
    },
    signal,
  );
  return { lookAgain };
}

function lose(store: Store<BoardState>, error: unknown): void {
  if (isSignedOut(error)) return store.change({ access: 'signed-out' });
  store.change({ link: { state: 'lost', sentence: sentenceOf(error) } });
}

/** Tells the events of the last hours, then each as it happens; after a break, without a gap, those that came meanwhile. */
async function hearEvents(
  service: Service,
  tell: (events: readonly ServiceEvent[]) => void,
  signal: AbortSignal,
): Promise<void> {
  let last: string | null = null;
  while (!isOver(signal)) {
    try {
      if (last === null) {
        // Ids begin with the milliseconds of the service's clock, so the list can be entered in its middle.
        const after = `${Math.max(0, Math.trunc(Date.now() - LOOK_BACK_MS))}-0`;
        const recent = await lastEvents(service, { after, most: MESSAGES });
        last = recent.at(-1)?.id ?? '0';
        if (!isOver(signal)) tell(recent);
      }
      for await (const event of followEvents(() => service, { after: last, signal })) {
        last = event.id;
        tell([event]);
      }
    } catch {
      // The looks at the drives tell what is wrong; the stream only comes back.
    }
    await new Promise((resolve) => setTimeout(resolve, TRY_AGAIN_AFTER_MS));
  }
}

// A function, because the compiler takes `signal.aborted` for settled after the first look at it.
function isOver(signal: AbortSignal): boolean {
  return signal.aborted;
}
