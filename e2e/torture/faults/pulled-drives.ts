import { appendFile, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { CLIP } from '../plan-run.ts';
import type { Scene } from '../scene.ts';
import { layFile, type RecorderDrive } from '../studio/recorder-drive.ts';
import type { Fault } from './fault.ts';

/** The switch takes one drive away, and brings it back. */
export function pulled(isBackAt: 'its place' | 'another place'): Fault {
  return async (scene) => {
    const { target } = scene;
    const place = target.isIn ? target.slot.path : scene.newSlot();
    await pull(scene, target);
    return () => putBack(scene, target, isBackAt === 'its place' ? place : scene.newSlot());
  };
}

/** The switch takes all drives away at once and brings them back in any order, several times over. */
export const allVanish: Fault = async (scene) => {
  const { dice } = scene;
  const drives = [...scene.drives.values()];
  for (let times = dice.between(1, 3); times > 1; times -= 1) {
    await Promise.all(drives.map((drive) => pull(scene, drive)));
    await wait(dice.between(0, 1500));
    await bringBack(scene, drives);
    await wait(dice.between(0, 2500));
  }
  await Promise.all(drives.map((drive) => pull(scene, drive)));
  return () => bringBack(scene, drives);
};

/** While the drive is away, somebody works on it. */
export function workedOnWhileAway(work: 'changed' | 'added' | 'removed'): Fault {
  return async (scene) => {
    const { target, dice } = scene;
    await pull(scene, target);
    await target.change(async (path) => {
      if (work === 'added')
        await layFile(join(path, 'CLIPS', `C00${dice.between(1, 9)}.MOV`), dice.between(1, 4_000_000));
      else if (work === 'removed') await removeOne(path, dice.happens(0.5) ? CLIP : null);
      else await changeOne(path, dice.pick(['longer', 'same size']));
    });
    scene.tell(`a file on the drive of ${target.recorder} was ${work}`);
    return () => putBack(scene, target, scene.newSlot());
  };
}

export async function pull(scene: Scene, drive: RecorderDrive): Promise<void> {
  if (!drive.isIn) return;
  scene.tell(`the drive of ${drive.recorder} is pulled`);
  await drive.pull();
}

export async function putBack(scene: Scene, drive: RecorderDrive, path: string): Promise<void> {
  if (drive.isIn) return;
  await drive.insert(path);
  scene.tell(`the drive of ${drive.recorder} is back at ${path}`);
}

async function bringBack(scene: Scene, drives: readonly RecorderDrive[]): Promise<void> {
  for (const drive of scene.dice.shuffled(drives)) {
    await putBack(scene, drive, scene.newSlot());
    await wait(scene.dice.between(0, 700));
  }
}

async function removeOne(path: string, wish: string | null): Promise<void> {
  const names = await readdir(path, { recursive: true, withFileTypes: true });
  const files = names.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  const others = files.filter((file) => !file.endsWith(CLIP));
  // One at least stays, or the drive would be an empty one.
  const victim = others.length > 0 && wish === null ? others[0] : join(path, CLIP);
  if (files.length > 1 && victim !== undefined) await rm(victim, { force: true });
}

async function changeOne(path: string, how: 'longer' | 'same size'): Promise<void> {
  const clip = join(path, CLIP);
  if (how === 'longer') await appendFile(clip, 'one more take');
  // Laid anew, as a recorder does that was formatted or that reused the name: the same size, other bytes, another time.
  else await layFile(clip, (await stat(clip)).size);
}
