import type { PlanOnRecord } from '@quayside/proxy-planning';
import { jsonText } from '../json-text.ts';
import type { ShootPicture } from '../shoot-picture.ts';
import type { ProxyPlanJson } from './proxy-plan-json.ts';

/** The text of `proxy-plan.json`: what `ProxyPlanJson` reads, indented by one space. */
export function printProxyPlan({ shoot }: Pick<ShootPicture, 'shoot'>, planned: PlanOnRecord): string {
  const record: ProxyPlanJson = {
    format: 'quayside-proxy-plan',
    version: 1,
    shoot: { id: shoot.id, name: shoot.name },
    ...planned,
  };
  return jsonText(record);
}
