import { type PlanOnRecord, printBytes } from '@quayside/proxy-planning';
import type { PipelineEvent } from '@quayside/shoot';

/** Differences that the event tells one by one; the plan has them all. */
const TOLD = 20;

/** What listeners are told of a plan that is new or differs from the one before. */
export function newsOfPlan(shootId: string, { plannedAt, changes, plan }: PlanOnRecord): PipelineEvent {
  const { planned, leftOut } = plan.totals;
  const left = leftOut.count === 0 ? '' : `, and ${leftOut.count} have no room`;
  const what = planned.count === 0 ? 'no proxies' : `${planned.count} ${planned.count === 1 ? 'proxy' : 'proxies'}`;
  const minutes = Math.ceil(planned.seconds.expected / 60);
  const about = planned.count === 0 ? '' : `, about ${printBytes(planned.bytes.expected)} and ${minutes} min of work`;
  const sentence = `Shoot ${shootId} needs ${what}${about}${left}.`;
  const data = { changes: changes.slice(0, TOLD).map((change) => change.sentence) };
  return { type: 'shoot.planned', at: plannedAt, subject: shootId, sentence, data };
}
