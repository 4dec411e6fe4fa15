import { setTimeout as wait } from 'node:timers/promises';
import { PauseSwitch } from '@quayside/guest-host';
import type { Store } from '@quayside/job-queue';
import { isBeingTakenIn, type RunDecision } from '@quayside/pipeline';
import type { LoadedPlugin } from '../plugins/load-plugins.ts';

/** How often it is looked whether a drive has come, in milliseconds: so long it may have to share the machine. */
const LOOK_MS = 500;

/**
 * Keeps the runs that make way for drives still while any drive is being taken in. Whoever begins such a run uses `pause`
 * between `enter` and `leave`; nobody looks while there is none.
 */
export class RoadWatch {
  readonly pause = new PauseSwitch();
  readonly #store: Pick<Store, 'awakeRolls'>;
  #count = 0;
  #isLooking = false;

  constructor(store: Pick<Store, 'awakeRolls'>) {
    this.#store = store;
  }

  /** Whether nothing is being taken in now. With Redis away nobody knows; whatever is taken in then waits for it as well. */
  async isClear(): Promise<boolean> {
    return !(await this.#store.awakeRolls()).some(isBeingTakenIn);
  }

  enter(): void {
    this.#count += 1;
    if (!this.#isLooking) void this.#look();
  }

  leave(): void {
    this.#count -= 1;
  }

  async #look(): Promise<void> {
    this.#isLooking = true;
    while (this.#count > 0) {
      this.pause.turn(!(await this.isClear().catch(() => true)));
      await wait(LOOK_MS, undefined, { ref: false });
    }
    this.#isLooking = false;
    this.pause.turn(false);
  }
}

/** Whether a run is to stand still while drives are being taken in. */
export function makesWay(
  { step }: Pick<RunDecision, 'step'>,
  plugin: Pick<LoadedPlugin, 'makesWay'> | undefined,
): boolean {
  return step.makesWay && plugin?.makesWay === true;
}
