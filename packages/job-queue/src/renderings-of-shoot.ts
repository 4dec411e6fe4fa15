import { PROXY_STEP } from '@quayside/pipeline';
import {
  type ClipPlan,
  type ClipRendering,
  type PlanStanding,
  renderingOf,
  type RenderingRun,
} from '@quayside/proxy-planning';
import type { GuestRunRecord } from '@quayside/shoot';
import type { Store } from './store.ts';

/** How far the proxies of a plan are, by clip, as the last runs of the step that makes them tell. */
export async function renderingsOfShoot(
  store: Store,
  shootId: string,
  { clips, standing }: { readonly clips: readonly ClipPlan[]; readonly standing: PlanStanding['state'] },
): Promise<ReadonlyMap<string, ClipRendering>> {
  const plugins = await store.plugins();
  const isUsed = plugins.some(({ isOn, failure, plugin }) => isOn && failure === null && plugin?.name === PLUGIN);
  const runs = (await store.guestRuns(shootId)).filter(({ step }) => step === PROXY_STEP);
  const records = await Promise.all(runs.map(({ id }) => store.guestRun(id)));
  const byClip = new Map(records.flatMap((run) => (run === null ? [] : [[run.subject.id, runOf(run)] as const])));
  return new Map(
    clips.map((clip) => [clip.clipId, renderingOf(clip, byClip.get(clip.clipId) ?? null, { standing, isUsed })]),
  );
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
