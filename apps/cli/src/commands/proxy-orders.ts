import { ProxiesAnswer } from '@quayside/admin-api';
import { PlanStanding } from '@quayside/proxy-planning';
import { z } from 'zod';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { printable } from '../screen/printable.ts';
import { say, sayJson } from '../screen/say.ts';
import { reachService } from '../service-api/call-api.ts';
import { newestShoot } from '../service-api/newest-shoot.ts';

interface Options {
  readonly config?: string;
  readonly json?: boolean;
  readonly note?: string;
  readonly clip?: readonly string[];
}

const Ordered = z.object({ sentence: z.string(), runs: z.array(z.string()) });

/** Approves or holds the plan of a shoot's proxies as it is at this moment (the newest shoot when none is named). */
export async function sayOfPlan(
  word: 'approve' | 'hold',
  shoot: string | undefined,
  { note, ...options }: Options,
): Promise<ExitCode> {
  const { service, id, path } = await reach(shoot, options);
  const noted = note === undefined ? {} : { note };
  const { plannedAt } = await service.get(`${path}?limit=1`, ProxiesAnswer);
  const seen = word === 'approve' && plannedAt !== null ? { plannedAt } : {};
  const standing = await service.post(`${path}/${word}`, { ...noted, ...seen }, PlanStanding);
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
  const { service, path } = await reach(shoot, options);
  const clips = options.clip === undefined ? {} : { clips: options.clip };
  const ordered = await service.post(`${path}/${word === 'replan' ? 'plan' : word}`, clips, Ordered);
  if (options.json === true) sayJson(ordered);
  else say(printable(ordered.sentence));
  return EXIT.ok;
}

async function reach(
  shoot: string | undefined,
  { config }: Options,
): Promise<{ readonly service: Awaited<ReturnType<typeof reachService>>; readonly id: string; readonly path: string }> {
  const service = await reachService((await findConfiguration(config)).configuration);
  const id = shoot ?? (await newestShoot(service));
  return { service, id, path: `/v1/shoots/${encodeURIComponent(id)}/proxies` };
}
