import { setTimeout as wait } from 'node:timers/promises';
import type { Rebuild, Store } from '@quayside/job-queue';
import { failureOf } from '@quayside/shoot';
import { rebuildOnRequest, type RequestParts } from '../records/rebuild-on-request.ts';

type Parts = RequestParts & { readonly log: (sentence: string, about?: object) => void };

const LOOK_EVERY_MS = 2000;

/** Has the view remade whenever somebody asks for it, until the signal aborts. Beside the rest of the upkeep, which may be long. */
export async function answerRebuilds(parts: Parts, signal: AbortSignal): Promise<void> {
  let isInTrouble = false;
  while (!signal.aborted) {
    try {
      await answerRebuild(parts);
      isInTrouble = false;
    } catch (error) {
      // Once for each time of trouble: while Redis is away it is the same every two seconds.
      if (!isInTrouble) parts.log('Whether the view is to be remade could not be seen.', { error: String(error) });
      isInTrouble = true;
    }
    await wait(LOOK_EVERY_MS, undefined, { signal }).catch(() => {});
  }
}

/**
 * One that a worker left behind in the middle is made anew: what was taken over already is then no difference any more. A view
 * that was lost is first read again as a whole.
 */
async function answerRebuild(parts: Parts): Promise<void> {
  const asked = await parts.store.rebuild();
  if (asked === null || asked.state === 'done' || asked.state === 'failed') return;
  if (!(await parts.store.isWhole())) return;
  await parts.store.saveRebuild({ ...asked, state: 'running' });
  const ended = await make(parts, asked);
  parts.log(
    `The view was held against the records beside the footage: ${ended.report?.sentence ?? ended.failure?.sentence}`,
  );
  await save(parts.store, ended);
}

async function make(parts: RequestParts, asked: Rebuild): Promise<Rebuild> {
  try {
    const report = await rebuildOnRequest(parts, asked.shootId, new Date().toISOString());
    return { ...asked, state: 'done', endedAt: new Date().toISOString(), report };
  } catch (error) {
    const failure = failureOf(error);
    // Redis that does not answer for a moment: it stands as running, and the next look makes it anew.
    if (failure.retry === 'later') throw error;
    return { ...asked, state: 'failed', endedAt: new Date().toISOString(), failure };
  }
}

async function save(store: Store, ended: Rebuild): Promise<void> {
  // Redis may have been lost meanwhile, with the wish.
  if ((await store.rebuild())?.id === ended.id) await store.saveRebuild(ended);
}
