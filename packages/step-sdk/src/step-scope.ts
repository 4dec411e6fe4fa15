import type { ClipSubject, RollSubject, ShootSubject } from '@quayside/shoot';

/** What one run of a step is about. */
export type StepScope = 'clip' | 'roll' | 'shoot';

/** The facts that a run is told, by scope. */
export interface Subjects {
  readonly clip: ClipSubject;
  readonly roll: RollSubject;
  readonly shoot: ShootSubject;
}
