import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { Moment } from './fault-kinds.ts';
import { CLIP, MIB, type PlannedStrike } from './plan-run.ts';
import type { Scene } from './scene.ts';

const LOOK_EVERY_MS = 10;
const WITHIN_MS = 40_000;
/** Drives are held to this, in bytes a second, until a moment in the middle of their copying has come. */
const COPYING_PACE = 24 * MIB;
const READ_BACK_PACE = 16 * MIB;
/** Slow enough for a bit near the end of a file to flip before the reading gets there. */
const FLIPPING_PACE = 3 * MIB;

/** Waits for the moment of a strike. Gives whether it came; it does not when the work ends first or takes too long. */
export async function untilMoment(scene: Scene, strike: PlannedStrike): Promise<boolean> {
  await setPace(scene, strike.moment);
  const deadline = performance.now() + WITHIN_MS;
  let hasCome = false;
  while (!hasCome && performance.now() < deadline) {
    hasCome = await isNow(scene, strike).catch(() => false);
    if (!hasCome && isOver(scene, strike.moment)) break;
    if (!hasCome) await wait(LOOK_EVERY_MS);
  }
  if (hasCome) await wait(strike.delayMs);
  return hasCome;
}

/** Lets every drive go as fast as it can again. */
export async function releasePace(scene: Scene): Promise<void> {
  for (const drive of [...scene.drives.values(), ...scene.studio.destinations]) {
    if (drive.isIn) await drive.slot.switches.slowDown(null);
  }
}

async function setPace(scene: Scene, moment: Moment): Promise<void> {
  if (moment !== 'while copying' && moment !== 'during read-back') return;
  for (const drive of scene.drives.values()) if (drive.isIn) await drive.slot.switches.slowDown(COPYING_PACE);
}

async function isNow(scene: Scene, { kind, moment, fraction, destination: name }: PlannedStrike): Promise<boolean> {
  const destination = scene.destination(name);
  const roll = scene.targetRoll;
  switch (moment) {
    case 'before it has settled':
      return true;
    case 'while copying':
      return (await scene.arrivedFraction(destination)) >= fraction;
    case 'during read-back':
      if ((await scene.arrivedFraction(destination)) < 0.8) return false;
      await destination.slot.switches.slowDown(isFlipping(kind) ? FLIPPING_PACE : READ_BACK_PACE);
      return roll !== null && existsSync(join(scene.folderAt(destination, roll), CLIP));
    case 'during sealing':
      return roll !== null && existsSync(join(scene.folderAt(destination, roll), 'ascmhl'));
    case 'during judging':
      return roll !== null && scene.studio.destinations.every(({ root }) => hasRecord(root, roll));
    case 'after clear':
      return roll?.clearance.verdict === 'clear';
  }
}

function isFlipping(kind: PlannedStrike['kind']): boolean {
  return kind === 'bit flipped before its read-back';
}

function hasRecord(root: string, { id, shootId }: { readonly id: string; readonly shootId: string }): boolean {
  return existsSync(join(root, shootId, 'records', 'rolls', `${id}.json`));
}

/** The work has ended, so that a moment in its middle cannot come any more. */
function isOver({ targetRoll }: Scene, moment: Moment): boolean {
  if (moment === 'after clear') return targetRoll?.activity === 'resting' && targetRoll.clearance.verdict === 'hold';
  return targetRoll?.activity === 'resting';
}
