import { GroupAnswer, RollDetail, ShootAnswer, ShootDetail, ShootFinding } from '@quayside/admin-api/page-answers';
import { z } from 'zod';
import type { Service } from './call-service.ts';

/** One shoot with its takes, its findings and its rolls. */
export interface ShootLook {
  readonly shoot: ShootDetail;
  readonly groups: readonly GroupAnswer[];
  /** False while newer facts of clips are still being worked out. */
  readonly groupsAreCurrent: boolean;
  readonly findings: readonly ShootFinding[];
  /** Of the rolls that are not clear, what failed, by id. */
  readonly details: ReadonlyMap<string, RollDetail>;
}

const Groups = z.object({ groups: z.array(GroupAnswer), next: z.string().nullable(), isCurrent: z.boolean() });
const Findings = z.object({ findings: z.array(ShootFinding) });
const Shoots = z.object({ shoots: z.array(ShootAnswer) });

/** More rolls than this are not looked into one by one. */
const DETAILED_ROLLS = 20;

/** The shoots, newest first. */
export async function lookAtShoots(service: Service): Promise<readonly ShootAnswer[]> {
  return (await service.ask('/v1/shoots', Shoots)).body.shoots;
}

/**
 * Everything that the page shows of one shoot.
 * @throws ServiceTrouble
 */
export async function lookAtShoot(service: Service, id: string): Promise<ShootLook> {
  const path = `/v1/shoots/${encodeURIComponent(id)}`;
  const [shoot, groups, findings] = await Promise.all([
    service.ask(path, ShootDetail),
    allGroups(service, path),
    service.ask(`${path}/findings`, Findings),
  ]);
  const held = shoot.body.rolls.filter(({ clearance }) => clearance.verdict === 'hold').slice(0, DETAILED_ROLLS);
  const details = await Promise.all(
    held.map(async (roll) => (await service.ask(`/v1/rolls/${encodeURIComponent(roll.id)}`, RollDetail)).body),
  );
  return {
    shoot: shoot.body,
    groups: groups.groups,
    groupsAreCurrent: groups.isCurrent,
    findings: findings.body.findings,
    details: new Map(details.map((detail) => [detail.id, detail])),
  };
}

async function allGroups(
  service: Service,
  path: string,
): Promise<{ readonly groups: readonly GroupAnswer[]; readonly isCurrent: boolean }> {
  const groups: GroupAnswer[] = [];
  let cursor = '';
  for (;;) {
    const { body } = await service.ask(`${path}/groups?limit=2000${cursor}`, Groups);
    groups.push(...body.groups);
    if (body.next === null) return { groups, isCurrent: body.isCurrent };
    cursor = `&cursor=${encodeURIComponent(body.next)}`;
  }
}
