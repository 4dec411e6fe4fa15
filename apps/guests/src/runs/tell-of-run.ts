import type { Store } from '@quayside/job-queue';
import type { GuestRunSummary, PipelineEvent } from '@quayside/shoot';

/** Publishes what people should hear of a run, that it failed and what it found, and counts its time. */
export async function tellOfRun(store: Store, run: GuestRunSummary): Promise<void> {
  const at = new Date().toISOString();
  const about = { run: run.id, step: run.step, shoot: run.shootId };
  const events: PipelineEvent[] = run.findings.map(({ code, severity, why, remedy }) => ({
    type: 'finding.raised',
    at,
    subject: run.rollId ?? run.shootId,
    sentence: `${why} ${remedy}`,
    data: { ...about, code, severity },
  }));
  if (run.failure !== null) {
    const { code, sentence } = run.failure;
    events.push({ type: 'run.failed', at, subject: run.rollId ?? run.shootId, sentence, data: { ...about, code } });
  }
  if (run.tookMs !== null && (run.state === 'done' || run.state === 'failed'))
    await store.noteStepTime(run.step, run.state, run.tookMs);
  if (events.length > 0) await store.publish(events);
}
