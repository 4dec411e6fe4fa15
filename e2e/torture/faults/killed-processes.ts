import { setTimeout as wait } from 'node:timers/promises';
import type { ProcessName } from '../../service/service-processes.ts';
import type { Scene } from '../scene.ts';
import { type Fault, NOTHING_TO_UNDO } from './fault.ts';

const FOUND_WITHIN_MS = 3000;

/** kill -9 of one part of the service; its supervisor, or its worker, sees to the rest. */
export function partKilled(name: ProcessName): Fault {
  return async (scene) => {
    const pids = await findPids(scene, name);
    scene.tell(`kill -9 of ${name} (${pids.join(', ') || 'none runs'})`);
    for (const pid of pids) kill(pid);
    return NOTHING_TO_UNDO;
  };
}

/** kill -9 of every process of the service at once, Redis included; the operator starts it again. */
export const serviceKilled: Fault = async (scene) => {
  scene.tell('kill -9 of the whole service');
  await scene.studio.service.kill();
  return () => startAgain(scene);
};

/** kill -9 of the supervisor alone: Redis goes on, the others notice and end, and the operator starts it again. */
export const supervisorKilled: Fault = async (scene) => {
  scene.tell('kill -9 of the supervisor');
  await scene.studio.service.killSupervisor();
  return () => startAgain(scene);
};

export async function startAgain(scene: Scene): Promise<void> {
  if (scene.studio.service.pid !== 0) return;
  await scene.studio.service.run();
  scene.tell('the service runs again');
}

/** Movers come and go with the work, so one that is not there yet is waited for. */
async function findPids(scene: Scene, name: ProcessName): Promise<readonly number[]> {
  const deadline = performance.now() + FOUND_WITHIN_MS;
  for (;;) {
    const found = (await scene.studio.service.processes()).filter((one) => one.name === name);
    if (found.length > 0 || performance.now() > deadline) return found.map(({ pid }) => pid);
    await wait(20);
  }
}

function kill(pid: number): void {
  try {
    process.kill(pid, 'SIGKILL');
  } catch {
    // It has ended meanwhile.
  }
}
