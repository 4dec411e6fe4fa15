import { askForShoot, wantedOfShoot } from '@quayside/job-queue';
import { PlanOnRecord } from '@quayside/proxy-planning';
import { matterOf, type PipelineEvent, type RunRequest } from '@quayside/shoot';
import { runStep } from '@quayside/step-sdk/built-in';
import { GroupingResult } from '@quayside/sync-grouping';
import { z } from 'zod';
import { newsOfPlan } from '../shoots/news-of-plan.ts';
import { letWaitingRollsGo, orderCopying } from '../shoots/order-copying.ts';
import type { RunnerParts, StepRun } from './runner-parts.ts';

/**
 * Runs a step over a shoot until it has worked out the newest state: while it ran a roll may have come, and the queue takes
 * no second request for a run that is under way.
 */
export async function runForShoot(parts: RunnerParts, { step, run }: StepRun, signal: AbortSignal): Promise<void> {
  const shootId = run.subject;
  while (await isWanted(parts, run)) {
    const output = await runStep(
      step,
      { config: parts.configOf(run.step), input: run.inputs },
      {
        ...parts.capabilities,
        signal,
        log: (sentence) => parts.log(sentence, { run: run.id }),
        progress: () => {},
      },
    );
    if (run.step === 'sync-grouping') await keepGrouping(parts, shootId, Grouped.parse(output));
    if (run.step === 'proxy-planning') await keepPlan(parts, shootId, Planned.parse(output));
    if (run.step === 'records') await noteRecorded(parts, shootId, Recorded.parse(output));
    signal.throwIfAborted();
  }
  await askForShoot(parts, shootId);
}

const Grouped = z.object({ factsState: z.string(), grouping: GroupingResult });
const Planned = z.object({ planState: z.string(), planned: PlanOnRecord });
const Recorded = z.object({ recordsState: z.string(), destinations: z.array(z.string()) });

async function isWanted({ store }: RunnerParts, run: RunRequest): Promise<boolean> {
  return (await wantedOfShoot(store, run.subject)).some(({ id }) => id === run.id);
}

async function keepGrouping(
  parts: RunnerParts,
  shootId: string,
  { factsState, grouping }: z.output<typeof Grouped>,
): Promise<void> {
  const before = await parts.store.grouping(shootId);
  await parts.store.saveGrouping(shootId, grouping);
  await parts.store.publish(newsOf(shootId, before, grouping));
  if (parts.configuration.order === 'editable-first') await orderCopying(parts, shootId, grouping);
  else await letWaitingRollsGo(parts, shootId);
  // Last: after a crash in between it is all done again.
  await parts.store.noteShootProgress(shootId, { grouped: factsState });
}

function newsOf(shootId: string, before: GroupingResult | null, now: GroupingResult): readonly PipelineEvent[] {
  const at = new Date().toISOString();
  const known = new Set(before?.findings.map(matterOf));
  const raised = now.findings
    .filter((finding) => !known.has(matterOf(finding)))
    .map(({ code, severity, subject, why, remedy }) => ({
      type: 'finding.raised' as const,
      at,
      subject: shootId,
      sentence: `${why} ${remedy}`,
      data: { code, severity, shoot: shootId, about: `${subject.id} ${subject.path ?? ''}`.trim() },
    }));
  if (JSON.stringify(before?.groups) === JSON.stringify(now.groups)) return raised;
  const sentence = `Shoot ${shootId} has ${now.groups.length} sync groups, and ${now.findings.length} findings.`;
  return [{ type: 'shoot.grouped', at, subject: shootId, sentence }, ...raised];
}

async function keepPlan(
  { store }: RunnerParts,
  shootId: string,
  { planState, planned }: z.output<typeof Planned>,
): Promise<void> {
  const isFirst = (await store.proxyPlan(shootId)) === null;
  await store.saveProxyPlan(shootId, planned);
  if (isFirst || planned.changes.length > 0) await store.publish([newsOfPlan(shootId, planned)]);
  await store.noteShootProgress(shootId, { planned: planState });
}

async function noteRecorded(
  { store }: RunnerParts,
  shootId: string,
  { recordsState, destinations }: z.output<typeof Recorded>,
): Promise<void> {
  await store.noteShootProgress(shootId, { recorded: recordsState });
  if (destinations.length === 0) return;
  const sentence = `The records of shoot ${shootId} are written at ${destinations.join(' and ')}.`;
  await store.publish([{ type: 'shoot.recorded', at: new Date().toISOString(), subject: shootId, sentence }]);
}
