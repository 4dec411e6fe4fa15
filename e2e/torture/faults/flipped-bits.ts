import { execFile } from 'node:child_process';
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { promisify } from 'node:util';
import { runQuayside } from '../../service/run-quayside.ts';
import type { ShownRoll } from '../../service/start-service.ts';
import { flipBit } from '../../bay/flip-bit.ts';
import { CLIP } from '../plan-run.ts';
import type { Scene } from '../scene.ts';
import type { Alteration } from '../truth/truth-keeper.ts';
import { type Fault, NOTHING_TO_UNDO } from './fault.ts';

const run = promisify(execFile);

/** One bit of the copied clip flips on its medium before it is read back; the moment before has slowed the reading down. */
export const bitFlippedBeforeReadBack: Fault = async (scene, strike) => {
  const flipped = await flipInClip(scene, strike.destination, 'near its end, unread');
  if (flipped === null) return NOTHING_TO_UNDO;
  // Where the moment did not come it was proven already, and only reading it once more can tell.
  if (await isProven(scene, flipped)) return () => findByVerify(scene, flipped);
  flipped.alteration.knowableAtMs = flipped.atMs;
  return NOTHING_TO_UNDO;
};

/** One bit of a proven clip flips; `verify` must find it, and the roll must hold when it is judged again. */
export const bitFlippedAfterSealing: Fault = async (scene, strike) => {
  const flipped = await flipInClip(scene, strike.destination, 'anywhere');
  return flipped === null ? NOTHING_TO_UNDO : () => findByVerify(scene, flipped);
};

interface Flipped {
  readonly alteration: Alteration;
  readonly roll: ShownRoll;
  readonly atMs: number;
}

async function findByVerify(scene: Scene, { alteration, roll }: Flipped): Promise<void> {
  const folder = scene.folderAt(scene.destination(alteration.destination), roll);
  const { code, text } = await runQuayside('verify', folder);
  if (code === 0 || !text.includes(alteration.path))
    scene.truth.otherFaults.push(`verify did not find the bit: ${text.slice(-300)}`);
  else scene.tell('verify has found it');
  alteration.knowableAtMs = Date.now();
  await untilJudgedAgain(scene, roll.id);
}

async function flipInClip(
  scene: Scene,
  name: string,
  where: 'near its end, unread' | 'anywhere',
): Promise<Flipped | null> {
  const destination = scene.destination(name);
  const roll = scene.targetRoll;
  if (roll === null) return null;
  const path = join(scene.folderAt(destination, roll), CLIP);
  const size = await stat(path).then(
    (found) => found.size,
    () => 0,
  );
  if (size === 0) return null;
  const isUnread = where === 'near its end, unread';
  // Reading it now would take as long as the read-back does, and it is what the drive gave.
  const before = isUnread ? (scene.target.footage.get(CLIP) ?? '') : await md5Of(path);
  const at = isUnread ? size - 1 - scene.dice.between(0, 4095) : scene.dice.between(0, size - 1);
  const atMs = Date.now();
  await flipBit(path, destination.slot.device, { at });
  await destination.slot.switches.slowDown(null);
  scene.tell(`bit flipped at byte ${at} of ${size} of ${CLIP} at ${name}`);
  const facts = { destination: name, path: CLIP, before, after: await md5Of(path) };
  const alteration: Alteration = { ...facts, knowableAtMs: Number.POSITIVE_INFINITY };
  scene.truth.alterations.push(alteration);
  return { alteration, roll, atMs };
}

/** Waits for what the read-back says. */
async function isProven(scene: Scene, { alteration, roll }: Flipped): Promise<boolean> {
  const outcome = async (): Promise<string | null> => {
    const answer = await scene.studio.service.get<CopyRows>(`/v1/rolls/${roll.id}/copies`).catch(() => null);
    const row = answer?.copies.find(({ path, destination }) => path === CLIP && destination === alteration.destination);
    const state = row?.copy.state ?? 'absent';
    return state === 'written' || state === 'writing' ? null : state;
  };
  return (await scene.studio.service.until('the clip is read back', outcome)) === 'verified';
}

interface CopyRows {
  readonly copies: readonly {
    readonly path: string;
    readonly destination: string;
    readonly copy: { readonly state: string };
  }[];
}

async function untilJudgedAgain(scene: Scene, rollId: string): Promise<void> {
  const { service } = scene.studio;
  const before = scene.targetRoll?.clearance.judgedAt;
  await service.post(`/v1/rolls/${rollId}/judge`).catch(() => undefined);
  for (let tries = 0; tries < 100 && scene.targetRoll?.clearance.judgedAt === before; tries += 1) await wait(50);
}

async function md5Of(path: string): Promise<string> {
  return (await run('md5sum', ['-z', path])).stdout.split(' ')[0] ?? '';
}
