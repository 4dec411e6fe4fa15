import type { Rebuild, Store } from '@quayside/job-queue';
import { failureOf } from '@quayside/shoot';
import { rebuildOnRequest, type RequestParts } from '../records/rebuild-on-request.ts';

/**
 * Has the view remade when somebody asked for it, and keeps what came of it. One that a worker left behind in the middle is
 * made anew: what was taken over already is then no difference any more.
 */
export async function answerRebuild(parts: RequestParts & { readonly log: (sentence: string) => void }): Promise<void> {
  const asked = await parts.store.rebuild();
  if (asked === null || asked.state === 'done' || asked.state === 'failed') return;
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
    // Redis that does not answer for a moment: it stands as running, and the next beat makes it anew.
    if (failure.retry === 'later') throw error;
    return { ...asked, state: 'failed', endedAt: new Date().toISOString(), failure };
  }
}

async function save(store: Store, ended: Rebuild): Promise<void> {
  // Redis may have been lost meanwhile, with the wish.
  if ((await store.rebuild())?.id === ended.id) await store.saveRebuild(ended);
}
