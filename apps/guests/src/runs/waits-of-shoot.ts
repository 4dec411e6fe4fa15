import type { GuestStep, RunDecision } from '@quayside/pipeline';
import type { GuestWait, PluginStanding, Roll, Shoot } from '@quayside/shoot';
import { idOfRun } from './make-run.ts';

export interface WaitSituation {
  readonly shoot: Shoot;
  readonly steps: readonly GuestStep[];
  readonly standings: readonly PluginStanding[];
  readonly decisions: readonly RunDecision[];
  /** Those of the shoot that are proven at no destination which is there. */
  readonly unproven: readonly Roll[];
  /** While drives are taken in. */
  readonly isGrowing: boolean;
  /** True of a run that is wanted and waits for its turn. */
  readonly isInLine: (decision: RunDecision) => boolean;
}

/** What a plugin is left out for until the operator gives it. */
const WANTS_FROM_OPERATOR = ['PLUGIN_GRANT_MISSING', 'PLUGIN_SECRET_MISSING'];

/** Each step that waits in a shoot, and what for. Of a roll that is not proven its clips stand for none: the roll does. */
export function waitsOfShoot(situation: WaitSituation): readonly GuestWait[] {
  return [...waitsOfDecisions(situation), ...waitsForProof(situation), ...waitsForOperator(situation)];
}

function waitsOfDecisions({ shoot, decisions, isInLine }: WaitSituation): readonly GuestWait[] {
  return decisions.flatMap((decision) => {
    const { verdict, step, subject, why, notBeforeMs } = decision;
    const isForPlace = verdict === 'run' && isInLine(decision);
    if (verdict !== 'wait' && !isForPlace) return [];
    const { parallel } = step.limits;
    const forPlace = `It waits for a free place: of this step ${parallel === 1 ? 'one run is' : `${parallel} runs are`} made at once. ${why}`;
    return [waitOf(shoot, step, { ...subject, why: isForPlace ? forPlace : why, notBeforeMs })];
  });
}

function waitsForProof({ shoot, steps, unproven, isGrowing }: WaitSituation): readonly GuestWait[] {
  const ofRolls = unproven.flatMap(({ id }) => {
    const why = `It waits until roll ${id} is proven and sealed at a destination that is there.`;
    return steps
      .filter(({ scope }) => scope !== 'shoot')
      .map((step) => waitOf(shoot, step, { kind: 'roll', id, rollId: id, why, notBeforeMs: null }));
  });
  if (!isGrowing) return ofRolls;
  const why = 'It waits until no drive of the shoot is being taken in.';
  const about = { kind: 'shoot', id: shoot.id, rollId: null, why, notBeforeMs: null } as const;
  return [...ofRolls, ...steps.filter(({ scope }) => scope === 'shoot').map((step) => waitOf(shoot, step, about))];
}

function waitsForOperator({ shoot, standings }: WaitSituation): readonly GuestWait[] {
  return standings.flatMap(({ plugin, failure }) => {
    if (plugin === null || failure === null || !WANTS_FROM_OPERATOR.includes(failure.code)) return [];
    const { name, version, steps } = plugin;
    return steps.map((step) => {
      const about = { kind: 'shoot', id: shoot.id, rollId: null, notBeforeMs: null } as const;
      return waitOf(shoot, { fullName: `${name}/${step.name}`, version }, { ...about, why: failure.sentence });
    });
  });
}

interface About {
  readonly kind: GuestWait['subject']['kind'];
  readonly id: string;
  readonly rollId: string | null;
  readonly why: string;
  readonly notBeforeMs: number | null;
}

function waitOf(
  shoot: Shoot,
  { fullName, version }: Pick<GuestStep, 'fullName' | 'version'>,
  { kind, id, rollId, why, notBeforeMs }: About,
): GuestWait {
  const subject = { kind, id };
  return {
    id: idOfRun(shoot.id, fullName, subject),
    step: fullName,
    version,
    subject,
    rollId,
    why,
    notBefore: notBeforeMs === null ? null : new Date(notBeforeMs).toISOString(),
  };
}
