import type { AnswerOf } from '@quayside/api-client';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { say, sayJson } from '../screen/say.ts';
import { newestShoot } from '../service-api/newest-shoot.ts';
import { operatorName } from '../service-api/operator-name.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

type Group = AnswerOf<'get', '/v1/shoots/{id}/groups'>['groups'][number];
type Finding = AnswerOf<'get', '/v1/shoots/{id}/findings'>['findings'][number];

/** Lists the takes of a shoot (the newest shoot when none is named): what ran together, and where it can be edited now. */
export async function listTakes(shoot: string | undefined, options: Options): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const id = shoot ?? (await newestShoot(service));
  const groups: Group[] = [];
  for await (const page of service.pages('/v1/shoots/{id}/groups', { path: { id } })) groups.push(...page.groups);
  if (options.json === true) sayJson(groups);
  else if (groups.length === 0)
    say(`Shoot ${id} has no takes yet; they show as soon as the clips of a drive have been looked into.`);
  else say(...columns([['TAKE', 'RECORDERS', 'EDIT FROM', 'ID'], ...groups.map(takeRow)]));
  return EXIT.ok;
}

/** Lists what went wrong in a shoot, the gravest first. */
export async function listFindings(shoot: string | undefined, options: Options): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const id = shoot ?? (await newestShoot(service));
  const { findings } = await service.get('/v1/shoots/{id}/findings', { path: { id } });
  if (options.json === true) sayJson(findings);
  else if (findings.length === 0) say(`Nothing is amiss in shoot ${id}.`);
  else for (const finding of findings) say(...linesOf(finding));
  return EXIT.ok;
}

/** Notes that a person has seen a finding. */
export async function acknowledgeFinding(
  finding: string,
  options: Options & { readonly shoot?: string; readonly note?: string; readonly by?: string },
): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const id = options.shoot ?? (await newestShoot(service));
  const seen = await service.post('/v1/shoots/{id}/findings/{finding}/acknowledge', {
    path: { id, finding },
    body: { by: options.by ?? operatorName(), note: options.note ?? '' },
  });
  if (options.json === true) sayJson(seen);
  else say(`Noted for shoot ${id}: ${printable(seen.why)}`);
  return EXIT.ok;
}

function takeRow(group: Group): readonly string[] {
  const recorders = [...new Set(group.members.map(({ recorder }) => recorder))].join(' ');
  const editable = group.editableAt.length === 0 ? 'not yet' : group.editableAt.join(' ');
  return [`${group.day.date} ${group.start.timecode}`, recorders, editable, group.id];
}

function linesOf({ id, severity, code, why, remedy, acknowledged }: Finding): readonly string[] {
  const seen =
    acknowledged === null ? [] : [`  seen by ${printable(acknowledged.by)} ${printable(acknowledged.note)}`.trimEnd()];
  return [`${severity.toUpperCase()} ${code}  ${id}`, `  ${printable(why)}`, `  ${printable(remedy)}`, ...seen];
}
