import { ShootAnswer } from '@quayside/admin-api';
import { z } from 'zod';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { countText, momentText } from '../screen/quantities.ts';
import { say, sayJson } from '../screen/say.ts';
import { reachService, type ServiceApi } from '../service-api/call-api.ts';

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

/** Lists the shoots, newest first, with how their rolls stand. */
export async function listShoots(options: Options): Promise<ExitCode> {
  const { shoots } = await (await reach(options)).get('/v1/shoots', z.object({ shoots: z.array(ShootAnswer) }));
  if (options.json === true) sayJson(shoots);
  else if (shoots.length === 0)
    say('There is no shoot yet. One opens by itself for the first roll, or by "quayside shoot open NAME".');
  else say(...columns([['SHOOT', 'NAME', 'OPENED', 'STATE', 'ROLLS'], ...shoots.map(rowOf)]));
  return EXIT.ok;
}

function rowOf(shoot: ShootAnswer): readonly string[] {
  return [
    shoot.id,
    printable(shoot.name),
    momentText(shoot.openedAt),
    shoot.closedAt === null ? 'open' : `closed ${momentText(shoot.closedAt)}`,
    `${shoot.clearCount} CLEAR, ${shoot.holdCount} HOLD`,
  ];
}

/** Opens a shoot by name. */
export async function openShoot(name: string, options: Options): Promise<ExitCode> {
  const shoot = await (await reach(options)).post('/v1/shoots', { name }, ShootAnswer);
  if (options.json === true) sayJson(shoot);
  else say(`Shoot ${shoot.id} is open; rolls that arrive go to it until "quayside shoot close ${shoot.id}".`);
  return EXIT.ok;
}

/** Closes a shoot: no further roll goes to it by itself. */
export async function closeShoot(id: string, options: Options): Promise<ExitCode> {
  const shoot = await (await reach(options)).post(`/v1/shoots/${encodeURIComponent(id)}/close`, {}, ShootAnswer);
  if (options.json === true) sayJson(shoot);
  else say(`Shoot ${shoot.id} is closed with ${countText(shoot.rollCount, 'roll')}.`);
  return EXIT.ok;
}

async function reach(options: Options): Promise<ServiceApi> {
  return reachService((await findConfiguration(options.config)).configuration);
}
