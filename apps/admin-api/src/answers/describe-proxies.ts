import type { Store } from '@quayside/job-queue';
import { PROXY_STEP } from '@quayside/pipeline';
import { type ClipPlan, type PlanStanding, renderingOf, type RenderingRun } from '@quayside/proxy-planning';
import type { GuestRunRecord } from '@quayside/shoot';
import type { PlannedClip, ProxiesAnswer } from './proxies-answer.ts';

/** Each clip of a plan with how far its proxy is, as the last run of the step that makes it tells. */
export async function describeProxies(
  store: Store,
  shootId: string,
  { clips, standing }: { readonly clips: readonly ClipPlan[]; readonly standing: PlanStanding['state'] },
): Promise<readonly PlannedClip[]> {
  const plugins = await store.plugins();
  const isUsed = plugins.some(({ isOn, failure, plugin }) => isOn && failure === null && plugin?.name === PLUGIN);
  const runs = (await store.guestRuns(shootId)).filter(({ step }) => step === PROXY_STEP);
  const records = await Promise.all(runs.map(({ id }) => store.guestRun(id)));
  const byClip = new Map(records.flatMap((run) => (run === null ? [] : [[run.subject.id, runOf(run)] as const])));
  return clips.map((clip) => ({
    ...clip,
    rendering: renderingOf(clip, byClip.get(clip.clipId) ?? null, { standing, isUsed }),
  }));
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

const [PLUGIN = ''] = PROXY_STEP.split('/');

function runOf(run: GuestRunRecord): RenderingRun {
  const { id, state, why, output, failure, findings, progress, heldUpMs = 0, isRecognised = false } = run;
  return {
    id,
    state,
    why,
    output,
    sentences: [...(failure === null ? [] : [failure.sentence]), ...findings.map((finding) => finding.why)],
    fraction: progress?.fraction ?? null,
    isHeldUp: progress?.isHeldUp ?? false,
    isRecognised,
    heldUpMs,
  };
}
