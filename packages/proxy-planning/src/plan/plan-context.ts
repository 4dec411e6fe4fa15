import type { MeasuredProxy } from '../estimates/measured-proxy.ts';

/** A sync group as planning sees it. */
export interface GroupToPlan {
  readonly id: string;
  readonly clipIds: readonly string[];
  /** Whether every recorder that should be in it is. */
  readonly isComplete: boolean;
}

/** What a plan is made with beside clips and policy. */
export interface PlanContext {
  /** In the order of recording. */
  readonly groups: readonly GroupToPlan[];
  readonly measured: readonly MeasuredProxy[];
  /** The room that there is, or null when it is not known. */
  readonly space: { readonly place: string; readonly bytes: number } | null;
}
