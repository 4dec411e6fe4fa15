import { setTimeout as wait } from 'node:timers/promises';
import type { Fault } from './fault.ts';
import { startAgain } from './killed-processes.ts';
import { pull, putBack } from './pulled-drives.ts';

/** One destination's drive loses its power, with all that it was not told to flush, and comes back with its file system mended. */
export const destinationLosesPower: Fault = async (scene, strike) => {
  const destination = scene.destination(strike.destination);
  if (!destination.isIn) return () => destination.comeBack();
  scene.tell(`${destination.name} loses its power`);
  // The kernel may go on for a while before somebody takes the dead mount away.
  if (scene.dice.happens(0.5)) {
    await destination.slot.cutPower();
    await wait(scene.dice.between(0, 1500));
  }
  await destination.pull();
  return async () => {
    await destination.comeBack();
    scene.tell(`${destination.name} is back`);
  };
};

/** Everything loses its power at once: all processes, both destinations and the drive with the service's data, with their caches. */
export const powerCut: Fault = async (scene) => {
  scene.tell('the power is cut');
  await scene.studio.cutPower();
  const plugged = [...scene.drives.values()].filter((drive) => drive.isIn);
  for (const drive of plugged) await pull(scene, drive);
  return async () => {
    await scene.studio.restorePower();
    const isDriveFirst = scene.dice.happens(0.5);
    const insert = async (): Promise<void> => {
      for (const drive of plugged) await putBack(scene, drive, scene.newSlot());
    };
    if (isDriveFirst) await insert();
    await startAgain(scene);
    if (!isDriveFirst) await insert();
  };
};
