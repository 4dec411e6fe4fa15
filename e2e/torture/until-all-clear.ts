import { setTimeout as wait } from 'node:timers/promises';
import type { ShownRoll } from '../service/start-service.ts';
import type { Scene } from './scene.ts';
import type { RecorderDrive } from './studio/recorder-drive.ts';

const LOOK_EVERY_MS = 100;
/** Generous: a failure that may pass by itself is tried again after a minute, a run whose worker was lost after two. */
const STUCK_AFTER_MS = 240_000;
/** Everything should go on by itself once it is mended; the operator asks for a retry when it rests on hold for longer than this. */
const PATIENCE_MS = 45_000;
const RETRY_PAUSE_MS = 3000;

export interface Ending {
  readonly isClear: boolean;
  /** The reasons for which a roll held when the operator's patience was at its end. */
  readonly nudges: readonly string[];
}

/**
 * Waits until every drive is in the bay and clear, as the operator does: watches, and asks for a retry when it takes too long.
 */
export async function untilAllClear(scene: Scene): Promise<Ending> {
  const begunMs = performance.now();
  const nudges: string[] = [];
  let restingSinceMs: number | null = null;
  while (performance.now() - begunMs < STUCK_AFTER_MS) {
    await scene.witness.look();
    await scene.truth.checkPending();
    const drives = [...scene.drives.values()];
    if (drives.every((drive) => isClearNow(drive, scene.rollOf(drive)))) return { isClear: true, nudges };
    const rolls = drives.map((drive) => scene.rollOf(drive));
    const held = rolls.filter((roll) => roll !== null).filter(isHeldAtRest);
    restingSinceMs = held.length === 0 ? null : (restingSinceMs ?? performance.now());
    if (restingSinceMs !== null && performance.now() - restingSinceMs > PATIENCE_MS) {
      for (const roll of held) {
        const reasons = roll.clearance.verdict === 'hold' ? roll.clearance.reasons.map(({ code }) => code) : [];
        nudges.push(reasons.join(', '));
        scene.tell(`${roll.id} holds for ${reasons.join(', ')}: ${await failuresOf(scene, roll.id)}`);
        scene.tell('the operator asks for a retry');
        await scene.studio.service.post(`/v1/rolls/${roll.id}/retry`).catch(() => undefined);
      }
      restingSinceMs = null;
      await wait(RETRY_PAUSE_MS);
    }
    await wait(LOOK_EVERY_MS);
  }
  return { isClear: false, nudges };
}

async function failuresOf({ studio }: Scene, rollId: string): Promise<string> {
  const detail = await studio.service.get<Failures>(`/v1/rolls/${rollId}`).catch(() => ({ failures: [] }));
  return detail.failures.map(({ failure }) => failure.sentence).join(' ') || 'no failure is on record';
}

interface Failures {
  readonly failures: readonly { readonly failure: { readonly sentence: string } }[];
}

function isClearNow(drive: RecorderDrive, roll: ShownRoll | null): boolean {
  if (roll === null || !roll.drivePresent || roll.activity !== 'resting') return false;
  return roll.clearance.verdict === 'clear' && Date.parse(roll.clearance.judgedAt) > drive.insertedAtMs;
}

function isHeldAtRest(roll: ShownRoll): boolean {
  return roll.drivePresent && roll.activity === 'resting' && roll.clearance.verdict === 'hold';
}
