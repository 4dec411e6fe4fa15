import { PlanOnRecord } from '@quayside/proxy-planning';
import { Shoot } from '@quayside/shoot';
import { z } from 'zod';

/** The shape of `proxy-plan.json`; `version` as that of `RecordsJson`. */
export const ProxyPlanJson = z.object({
  format: z.literal('quayside-proxy-plan'),
  version: z.literal(1),
  shoot: Shoot.pick({ id: true, name: true }),
  ...PlanOnRecord.shape,
});
export type ProxyPlanJson = z.output<typeof ProxyPlanJson>;
