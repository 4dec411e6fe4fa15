import type { AnswerOf } from '@quayside/api-client';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { countText, momentText } from '../screen/quantities.ts';
import { say, sayJson } from '../screen/say.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

type Shoot = AnswerOf<'get', '/v1/shoots'>['shoots'][number];

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

/** Lists the shoots, newest first, with how their rolls stand. */
export async function listShoots(options: Options): Promise<ExitCode> {
  const { shoots } = await (await reachServiceOf(options)).get('/v1/shoots');
  if (options.json === true) sayJson(shoots);
  else if (shoots.length === 0)
    say('There is no shoot yet. One opens by itself for the first roll, or by "quayside shoot open NAME".');
  else say(...columns([['SHOOT', 'NAME', 'OPENED', 'STATE', 'ROLLS'], ...shoots.map(rowOf)]));
  return EXIT.ok;
}

function rowOf(shoot: Shoot): readonly string[] {
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
  const shoot = await (await reachServiceOf(options)).post('/v1/shoots', { body: { name } });
  if (options.json === true) sayJson(shoot);
  else say(`Shoot ${shoot.id} is open; rolls that arrive go to it until "quayside shoot close ${shoot.id}".`);
  return EXIT.ok;
}

/** Closes a shoot: no further roll goes to it by itself. */
export async function closeShoot(id: string, options: Options): Promise<ExitCode> {
  const shoot = await (await reachServiceOf(options)).post('/v1/shoots/{id}/close', { path: { id } });
  if (options.json === true) sayJson(shoot);
  else say(`Shoot ${shoot.id} is closed with ${countText(shoot.rollCount, 'roll')}.`);
  return EXIT.ok;
}
