import { GroupAnswer, ShootFinding } from '@quayside/admin-api';
import { z } from 'zod';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { say, sayJson } from '../screen/say.ts';
import { reachService, type ServiceApi } from '../service-api/call-api.ts';
import { newestShoot } from '../service-api/newest-shoot.ts';
import { operatorName } from '../service-api/operator-name.ts';

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

const Groups = z.object({ groups: z.array(GroupAnswer), next: z.string().nullable() });
const Findings = z.object({ findings: z.array(ShootFinding) });

/** Lists the takes of a shoot (the newest shoot when none is named): what ran together, and where it can be edited now. */
export async function listTakes(shoot: string | undefined, options: Options): Promise<ExitCode> {
  const service = await reach(options);
  const id = shoot ?? (await newestShoot(service));
  const groups = await allGroups(service, id);
  if (options.json === true) sayJson(groups);
  else if (groups.length === 0)
    say(`Shoot ${id} has no takes yet; they show as soon as the clips of a drive have been looked into.`);
  else say(...columns([['TAKE', 'RECORDERS', 'EDIT FROM', 'ID'], ...groups.map(takeRow)]));
  return EXIT.ok;
}

/** Lists what went wrong in a shoot, the gravest first. */
export async function listFindings(shoot: string | undefined, options: Options): Promise<ExitCode> {
  const service = await reach(options);
  const id = shoot ?? (await newestShoot(service));
  const { findings } = await service.get(`/v1/shoots/${encodeURIComponent(id)}/findings`, Findings);
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
  const service = await reach(options);
  const id = options.shoot ?? (await newestShoot(service));
  const path = `/v1/shoots/${encodeURIComponent(id)}/findings/${encodeURIComponent(finding)}/acknowledge`;
  const seen = await service.post(path, { by: options.by ?? operatorName(), note: options.note ?? '' }, ShootFinding);
  if (options.json === true) sayJson(seen);
  else say(`Noted for shoot ${id}: ${printable(seen.why)}`);
  return EXIT.ok;
}

function takeRow(group: GroupAnswer): readonly string[] {
  const recorders = [...new Set(group.members.map(({ recorder }) => recorder))].join(' ');
  const editable = group.editableAt.length === 0 ? 'not yet' : group.editableAt.join(' ');
  return [`${group.day.date} ${group.start.timecode}`, recorders, editable, group.id];
}

function linesOf({ id, severity, code, why, remedy, acknowledged }: ShootFinding): readonly string[] {
  const seen =
    acknowledged === null ? [] : [`  seen by ${printable(acknowledged.by)} ${printable(acknowledged.note)}`.trimEnd()];
  return [`${severity.toUpperCase()} ${code}  ${id}`, `  ${printable(why)}`, `  ${printable(remedy)}`, ...seen];
}

async function allGroups(service: ServiceApi, shoot: string): Promise<readonly GroupAnswer[]> {
  const groups: GroupAnswer[] = [];
  for (let cursor: string | null = ''; cursor !== null;) {
    const query: string = cursor === '' ? '' : `?cursor=${cursor}`;
    const page: z.output<typeof Groups> = await service.get(
      `/v1/shoots/${encodeURIComponent(shoot)}/groups${query}`,
      Groups,
    );
    groups.push(...page.groups);
    cursor = page.next;
  }
  return groups;
}

async function reach(options: Options): Promise<ServiceApi> {
  return reachService((await findConfiguration(options.config)).configuration);
}
