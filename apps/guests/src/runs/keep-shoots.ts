import { setTimeout as wait } from 'node:timers/promises';
import type { Store } from '@quayside/job-queue';
import type { LogLine } from '@quayside/service-process';
import { failureOf } from '@quayside/shoot';
import type { ShootKeeper } from './shoot-keeper.ts';

export interface KeepParts {
  readonly store: Store;
  readonly keeper: ShootKeeper;
  readonly log: LogLine;
  /** The shoots to look at next. Whoever adds one has it looked at within a second. */
  readonly due: Set<string>;
}

const LOOK_EVERY_MS = 500;
/** How soon a shoot is looked at again of which something waits: for a pause, a destination, or a built-in step. */
const AGAIN_AFTER_MS = 5000;
const ALL_AFTER_MS = 60_000;
/** Looking at a shoot of ten thousand clips takes a while; it is to take no more than a tenth of the time. */
const SHARE_OF_LOOKING = 10;

/** Looks at every shoot at first, then at those of which something was told, until the signal aborts. */
export async function keepShoots({ store, keeper, log, due }: KeepParts, signal: AbortSignal): Promise<void> {
  let allAt = 0;
  const following = follow(store, due, signal);
  const again = new Map<string, number>();
  const notBefore = new Map<string, number>();
  while (!signal.aborted) {
    try {
      const now = performance.now();
      // What no event tells of: a destination that is back, a pause that is over in a shoot that was passed over.
      if (now >= allAt && (await store.isWhole())) {
        for (const { id } of await store.shoots()) due.add(id);
        allAt = now + ALL_AFTER_MS;
      }
      for (const [id, order] of await store.takeGuestOrders()) {
        const shootId = await keeper.obey(id, order);
        if (shootId !== null) due.add(shootId);
      }
      for (const [id, at] of again) if (now >= at && again.delete(id)) due.add(id);
      // What is added meanwhile waits for the next turn.
      for (const id of Array.from(due)) {
        const began = performance.now();
        if (began < (notBefore.get(id) ?? 0)) continue;
        due.delete(id);
        const shoot = await store.shoot(id);
        if (shoot !== null && (await keeper.look(shoot))) again.set(id, performance.now() + AGAIN_AFTER_MS);
        const took = performance.now() - began;
        notBefore.set(id, performance.now() + took * SHARE_OF_LOOKING);
      }
    } catch (error) {
      log(failureOf(error).sentence, { code: failureOf(error).code });
      allAt = 0;
      await wait(AGAIN_AFTER_MS, undefined, { signal }).catch(() => undefined);
    }
    await wait(LOOK_EVERY_MS, undefined, { signal }).catch(() => undefined);
  }
  await following;
}

async function follow(store: Store, due: Set<string>, signal: AbortSignal): Promise<void> {
  try {
    for await (const { subject } of store.follow('$', signal)) {
      const roll = await store.roll(subject).catch(() => null);
      due.add(roll?.shootId ?? subject);
    }
  } catch (error) {
    if (!signal.aborted) throw error;
  }
}
