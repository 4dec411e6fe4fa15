import type { AnswerOf, Given } from '@quayside/api-client';
import type { Service } from './call-service.ts';

type GivenRun = AnswerOf<'get', '/v1/runs'>['runs'][number];
type GivenPlan = AnswerOf<'get', '/v1/shoots/{id}/proxies'>;

/** A run of a plugin's step, as far as the page shows it. */
export interface Run extends Pick<GivenRun, 'id' | 'step' | 'subject' | 'state' | 'why'> {
  readonly failure: Pick<NonNullable<GivenRun['failure']>, 'sentence'> | null;
}

/** The plan of a shoot's proxies, as far as the page shows it. */
export interface ProxyPlan extends Pick<GivenPlan, 'plannedAt' | 'isCurrent' | 'totals'> {
  readonly clips: readonly Pick<GivenPlan['clips'][number], 'clipId' | 'recorder' | 'path' | 'state' | 'why'>[];
}

type Query = NonNullable<Given<'get', '/v1/runs'>['query']>;

/** What becomes of a shoot beyond its verdicts: runs of plugins that failed or are under way, and its proxies. */
export interface WorkLook {
  readonly failed: readonly Run[];
  readonly running: readonly Run[];
  readonly plan: ProxyPlan;
  /** The runs that make proxies; none while no plan was made. */
  readonly rendering: readonly Run[];
}

/** The step that makes proxies. */
const PROXY_STEP = 'proxy-render/render';
const SHOWN_RUNS = 20;

/** @throws what the calls throw. */
export async function lookAtWork(service: Service, shoot: string): Promise<WorkLook> {
  const runs = async (query: Query): Promise<readonly Run[]> =>
    (await service.get('/v1/runs', { query: { shoot, ...query } })).runs;
  const [failed, running, plan] = await Promise.all([
    runs({ state: 'failed', limit: SHOWN_RUNS }),
    runs({ state: 'running', limit: SHOWN_RUNS }),
    service.get('/v1/shoots/{id}/proxies', { path: { id: shoot }, query: { limit: 2000 } }),
  ]);
  const rendering = plan.plannedAt === null ? [] : await runs({ step: PROXY_STEP, limit: 2000 });
  return { failed, running, plan, rendering };
}
