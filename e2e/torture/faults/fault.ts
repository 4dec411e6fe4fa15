import type { PlannedStrike } from '../plan-run.ts';
import type { Scene } from '../scene.ts';

/**
 * Brings a fault about, and gives what the operator then does to undo it: nothing where there is nothing to undo. The
 * undoing leaves every drive in the bay and every process where an operator would have it.
 */
export type Fault = (scene: Scene, strike: PlannedStrike) => Promise<() => Promise<void>>;

/** For what passes by itself. */
export const NOTHING_TO_UNDO = async (): Promise<void> => {};
