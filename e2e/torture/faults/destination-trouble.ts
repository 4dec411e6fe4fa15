import { open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { runTool } from '../../drives/run-tool.ts';
import { MIB } from '../plan-run.ts';
import type { Scene } from '../scene.ts';
import type { LastingDrive } from '../studio/lasting-drive.ts';
import type { Fault } from './fault.ts';

/** Somebody else fills the destination up to where this roll's footage cannot all get in; then makes room. */
export const destinationFull: Fault = async (scene, strike) => {
  const destination = scene.destination(strike.destination);
  const ballast = join(destination.root, 'other work');
  const bytes = Object.values(scene.plan.recordings[0]?.files ?? {}).reduce((sum, size) => sum + size, 0);
  const left = Math.floor(scene.dice.fraction() * bytes * Math.max(0, 1 - (await scene.arrivedFraction(destination))));
  const taken = Math.max(4096, (await destination.freeBytes()) - left);
  await runTool('fallocate', '--length', String(taken), ballast).catch(() => undefined);
  scene.tell(`${destination.name} has ${Math.round(left / MIB)} MiB left`);
  return async () => {
    await rm(ballast, { force: true });
    scene.tell(`${destination.name} has room again`);
  };
};

/** The file system turns read-only, as ext4 does after an error; the operator checks it and mounts it again. */
export const destinationReadOnly: Fault = async (scene, strike) => {
  const destination = scene.destination(strike.destination);
  const isPolite = await remount(destination, 'remount,ro');
  // With files open for writing only an error does it.
  if (!isPolite) await remount(destination, 'remount,abort');
  scene.tell(`${destination.name} is read-only${isPolite ? '' : ', after an error'}`);
  return async () => {
    if (isPolite && (await remount(destination, 'remount,rw'))) {
      scene.tell(`${destination.name} is mounted for writing`);
      return;
    }
    await replug(scene, destination);
  };
};

/** The mount goes away and comes back; the drive stays connected, and those who have files open may go on. */
export const destinationUnmounted: Fault = async (scene, strike) => {
  const destination = scene.destination(strike.destination);
  const { slot } = destination;
  // Kept open, or the loop device would go with its last user.
  const held = await open(slot.device);
  await runTool('umount', '--lazy', destination.root);
  scene.tell(`${destination.name} is unmounted`);
  return async () => {
    await destination.noteStrays();
    try {
      await runTool('mount', '-t', 'ext4', '-o', 'nosuid,nodev', slot.device, destination.root);
    } finally {
      await held.close();
    }
    scene.tell(`${destination.name} is mounted again`);
  };
};

/** Writes and syncs fail with EIO for a while; the operator takes the drive out, checks it, and puts it in again. */
export const destinationWriteError: Fault = async (scene, strike) => {
  const destination = scene.destination(strike.destination);
  await destination.slot.switches.failWrites(true);
  scene.tell(`writes to ${destination.name} fail`);
  await wait(scene.dice.between(50, 1500));
  await destination.slot.switches.failWrites(false);
  return () => replug(scene, destination);
};

/** The destination gives and takes a fraction of what it did. */
export const destinationSlow: Fault = async (scene, strike) => {
  const destination = scene.destination(strike.destination);
  await destination.slot.switches.slowDown(scene.dice.between(1, 4) * MIB);
  scene.tell(`${destination.name} is slow`);
  return async () => {
    if (destination.isIn) await destination.slot.switches.slowDown(null);
  };
};

async function replug(scene: Scene, destination: LastingDrive): Promise<void> {
  await destination.pull();
  await destination.comeBack();
  scene.tell(`${destination.name} was taken out, checked and put in again`);
}

async function remount(destination: LastingDrive, option: string): Promise<boolean> {
  for (let tries = 0; tries < 5; tries += 1) {
    const isDone = await runTool('mount', '-o', option, destination.root).then(
      () => true,
      () => false,
    );
    if (isDone) return true;
    await wait(50);
  }
  return false;
}
