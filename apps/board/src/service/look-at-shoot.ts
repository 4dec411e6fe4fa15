import { ShootDetail } from '@quayside/admin-api/page-answers';
import { type AnswerOf, checkAnswer } from '@quayside/api-client';
import type { Service } from './call-service.ts';
import { lookAtWork, type WorkLook } from './look-at-work.ts';

export type Shoot = AnswerOf<'get', '/v1/shoots'>['shoots'][number];
export type Group = AnswerOf<'get', '/v1/shoots/{id}/groups'>['groups'][number];
export type Finding = AnswerOf<'get', '/v1/shoots/{id}/findings'>['findings'][number];
export type RollDetail = AnswerOf<'get', '/v1/rolls/{id}'>;

/** One shoot with its takes, its findings and its rolls. */
export interface ShootLook {
  readonly shoot: ShootDetail;
  readonly groups: readonly Group[];
  /** False while newer facts of clips are still being worked out. */
  readonly groupsAreCurrent: boolean;
  readonly findings: readonly Finding[];
  /** Of the rolls that are not clear, what failed, by id. */
  readonly details: ReadonlyMap<string, RollDetail>;
  readonly work: WorkLook;
}

/** More rolls than this are not looked into one by one. */
const DETAILED_ROLLS = 20;

/** The shoots, newest first. */
export async function lookAtShoots(service: Service): Promise<readonly Shoot[]> {
  return (await service.get('/v1/shoots')).shoots;
}

/**
 * Everything that the page shows of one shoot.
 * @throws what the calls throw, and NoAnswerError `ANSWER_ODD`: its rolls tell their last verdict, so they are checked.
 */
export async function lookAtShoot(service: Service, id: string): Promise<ShootLook> {
  const [shoot, groups, findings, work] = await Promise.all([
    service.get('/v1/shoots/{id}', { path: { id } }).then((answer) => checkAnswer(ShootDetail, answer)),
    allGroups(service, id),
    service.get('/v1/shoots/{id}/findings', { path: { id } }),
    lookAtWork(service, id),
  ]);
  const held = shoot.rolls.filter(({ clearance }) => clearance.verdict === 'hold').slice(0, DETAILED_ROLLS);
  const details = await Promise.all(held.map((roll) => service.get('/v1/rolls/{id}', { path: { id: roll.id } })));
  return {
    shoot,
    groups: groups.groups,
    groupsAreCurrent: groups.isCurrent,
    findings: findings.findings,
    work,
    details: new Map(details.map((detail) => [detail.id, detail])),
  };
}

async function allGroups(
  service: Service,
  id: string,
): Promise<{ readonly groups: readonly Group[]; readonly isCurrent: boolean }> {
  const groups: Group[] = [];
  let isCurrent = true;
  for await (const page of service.pages('/v1/shoots/{id}/groups', { path: { id }, query: { limit: 2000 } })) {
    groups.push(...page.groups);
    ({ isCurrent } = page);
  }
  return { groups, isCurrent };
}
