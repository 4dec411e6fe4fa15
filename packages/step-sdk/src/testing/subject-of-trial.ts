import type { Clip, ClipSubject, RollSubject, ShootSubject } from '@quayside/shoot';
import type { StepScope } from '../step-scope.ts';
import { TrialError } from './trial-error.ts';

/** The subject that a host would make of these clips for a step of this scope. @throws TrialError when they do not fit the scope */
export function subjectOfTrial(
  scope: StepScope,
  clips: readonly Clip[],
  groups: ShootSubject['groups'] | undefined,
): ClipSubject | RollSubject | ShootSubject {
  const shoot = { id: 'trial', name: 'Trial' };
  const rolls = [...Map.groupBy(clips, ({ rollId }) => rollId).values()].map((ofRoll) => rollOf(ofRoll));
  const [clip] = clips;
  const [roll] = rolls;
  if (clip === undefined || roll === undefined) throw new TrialError('A trial needs at least one clip.');
  if (scope === 'shoot') return { kind: scope, shoot, rolls, clips: [...clips], groups: groups ?? oneGroup(clips) };
  if (scope === 'roll') {
    if (rolls.length > 1) throw new TrialError('A step of scope "roll" is tried on the clips of one recorder.');
    return { kind: scope, shoot, roll, clips: [...clips] };
  }
  if (clips.length > 1) throw new TrialError('A step of scope "clip" is tried on one clip at a time.');
  return { kind: scope, shoot, roll, clip };
}

function rollOf(clips: readonly Clip[]): RollSubject['roll'] {
  const [{ rollId, recorder, role } = { rollId: '', recorder: '', role: 'camera' as const }] = clips;
  const sizeInBytes = clips.reduce((sum, clip) => sum + clip.sizeInBytes, 0);
  return { id: rollId, recorder, role, fileCount: clips.length, sizeInBytes };
}

/** All of them as if they had begun together, at the first timecode that one of them has. */
function oneGroup(clips: readonly Clip[]): ShootSubject['groups'] {
  const leader = clips.find(({ facts }) => facts.startTimecode !== null && facts.picture?.rate !== null);
  const rate = leader?.facts.picture?.rate ?? { numerator: 25, denominator: 1 };
  const members = clips.map(({ id, recorder }) => ({
    clipId: id,
    recorder,
    offsetInFrames: 0,
    confidence: 'sure' as const,
  }));
  const lengthInFrames = leader?.facts.picture?.frameCount ?? 0;
  return [
    { id: 'group-1', startTimecode: leader?.facts.startTimecode ?? '00:00:00:00', rate, lengthInFrames, members },
  ];
}
