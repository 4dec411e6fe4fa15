import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { whereBytesLie } from '../../bay/where-bytes-lie.ts';
import { CLIP } from '../plan-run.ts';
import type { Scene } from '../scene.ts';
import type { Fault } from './fault.ts';
import { pull, putBack } from './pulled-drives.ts';

const RESTING_WITHIN_MS = 60_000;

/** The drive stays mounted and answers every read with EIO; then it is well again, or is connected anew. */
export const everyReadFails: Fault = async (scene) => {
  const { target } = scene;
  if (!target.isIn) await putBack(scene, target, scene.newSlot());
  scene.tell(`every read of the drive of ${target.recorder} fails`);
  await target.slot.switches.failReads(true);
  return async () => {
    if (scene.dice.happens(0.5) && target.isIn) {
      scene.tell('it reads again');
      await target.slot.switches.failReads(false);
      return;
    }
    await pull(scene, target);
    await putBack(scene, target, scene.newSlot());
  };
};

/** A region of the clip answers with EIO and reads well again before anybody gives up. */
export const regionFailsForAMoment: Fault = async (scene) => {
  await breakSomewhere(scene);
  return async () => {
    if (scene.target.isIn) await scene.target.slot.switches.breakRegion(null);
    scene.tell('the region reads again');
  };
};

/** A region of the clip answers with EIO until the operator tries another reader, when everything else is done. */
export const regionFailsForGood: Fault = async (scene) => {
  const { target } = scene;
  await breakSomewhere(scene);
  return async () => {
    const held = await untilHeldFor(scene);
    scene.tell(`the roll ${held}; the operator takes another reader`);
    await pull(scene, target);
    await putBack(scene, target, scene.newSlot());
  };
};

async function breakSomewhere(scene: Scene): Promise<void> {
  const { target, dice } = scene;
  if (!target.isIn) await target.insert(scene.newSlot(), 'has a bad region');
  const places = await whereBytesLie(join(target.slot.path, CLIP));
  const { position, lengthInBytes } = dice.pick(places);
  const from = position + dice.between(0, Math.floor((lengthInBytes - 1) / 4096)) * 4096;
  scene.tell(`bytes ${from} to ${from + 4096} of the drive of ${target.recorder} cannot be read`);
  await target.slot.switches.breakRegion({ from, to: from + 4096 });
}

async function untilHeldFor(scene: Scene): Promise<string> {
  const deadline = performance.now() + RESTING_WITHIN_MS;
  while (performance.now() < deadline) {
    const roll = scene.targetRoll;
    if (roll?.activity === 'resting' && roll.clearance.verdict === 'hold')
      return `holds for ${roll.clearance.reasons.map(({ code }) => code).join(', ')}`;
    await wait(50);
  }
  return 'came to no verdict';
}
