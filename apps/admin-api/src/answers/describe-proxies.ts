import { renderingsOfShoot, type Store } from '@quayside/job-queue';
import type { ClipPlan, PlanStanding } from '@quayside/proxy-planning';
import type { PlannedClip, ProxiesAnswer } from './proxies-answer.ts';

/** Each clip of a plan with how far its proxy is. */
export async function describeProxies(
  store: Store,
  shootId: string,
  plan: { readonly clips: readonly ClipPlan[]; readonly standing: PlanStanding['state'] },
): Promise<readonly PlannedClip[]> {
  const renderings = await renderingsOfShoot(store, shootId, plan);
  return plan.clips.flatMap((clip) => {
    const rendering = renderings.get(clip.clipId);
    return rendering === undefined ? [] : [{ ...clip, rendering }];
  });
}

/** What those that are made came to. */
export function sumUpMade(clips: readonly PlannedClip[]): ProxiesAnswer['made'] {
  const sum = { count: 0, bytes: 0, seconds: 0, predicted: { bytes: 0, seconds: 0 } };
  for (const { rendering } of clips) {
    const { state, made } = rendering;
    if (made === null || state === 'failed') continue;
    sum.count += 1;
    sum.bytes += made.bytes;
    sum.seconds += made.seconds;
    sum.predicted.bytes += made.predicted.bytes.expected;
    sum.predicted.seconds += made.predicted.seconds.expected;
  }
  return sum;
}
