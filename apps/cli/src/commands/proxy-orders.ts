import type { ApiClient } from '@quayside/api-client';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { printable } from '../screen/printable.ts';
import { say, sayJson } from '../screen/say.ts';
import { newestShoot } from '../service-api/newest-shoot.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

interface Options {
  readonly config?: string;
  readonly json?: boolean;
  readonly note?: string;
  readonly clip?: readonly string[];
}

/** Approves or holds the plan of a shoot's proxies as it is at this moment (the newest shoot when none is named). */
export async function sayOfPlan(
  word: 'approve' | 'hold',
  shoot: string | undefined,
  { note, ...options }: Options,
): Promise<ExitCode> {
  const { service, id } = await reach(shoot, options);
  const path = { id };
  const noted = note === undefined ? {} : { note };
  const { plannedAt } = await service.get('/v1/shoots/{id}/proxies', { path, query: { limit: 1 } });
  const seen = plannedAt === null ? {} : { plannedAt };
  const standing =
    word === 'hold'
      ? await service.post('/v1/shoots/{id}/proxies/hold', { path, body: noted })
      : await service.post('/v1/shoots/{id}/proxies/approve', { path, body: { ...noted, ...seen } });
  if (options.json === true) sayJson(standing);
  else if (word === 'hold') say(`No proxy of shoot ${id} is begun before its plan is approved.`);
  else say(`The proxies of shoot ${id} are made as planned. See "quayside plan ${id}".`);
  return EXIT.ok;
}

/** Has the proxies of a shoot planned anew, made again, or stopped; says what was ordered. */
export async function orderProxies(
  word: 'replan' | 'render' | 'cancel',
  shoot: string | undefined,
  options: Options,
): Promise<ExitCode> {
  const { service, id } = await reach(shoot, options);
  const path = { id };
  const body = options.clip === undefined ? {} : { clips: [...options.clip] };
  const ordered =
    word === 'replan'
      ? await service.post('/v1/shoots/{id}/proxies/plan', { path })
      : await service.post(`/v1/shoots/{id}/proxies/${word}`, { path, body });
  if (options.json === true) sayJson(ordered);
  else say(printable(ordered.sentence));
  return EXIT.ok;
}

async function reach(
  shoot: string | undefined,
  options: Options,
): Promise<{ readonly service: ApiClient; readonly id: string }> {
  const service = await reachServiceOf(options);
  return { service, id: shoot ?? (await newestShoot(service)) };
}
