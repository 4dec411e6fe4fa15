import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { Service } from '../service/start-service.ts';
import { ALL_FAULTS } from './faults/all-faults.ts';
import { releasePace, untilMoment } from './moments.ts';
import type { RunPlan } from './plan-run.ts';
import { Scene, usedBytes } from './scene.ts';
import { RecorderDrive } from './studio/recorder-drive.ts';
import type { TortureStudio } from './studio/torture-studio.ts';
import { findLosses } from './truth/find-losses.ts';
import { TruthKeeper } from './truth/truth-keeper.ts';
import { Witness } from './truth/witness.ts';
import { untilAllClear } from './until-all-clear.ts';

export interface RunOutcome {
  readonly plan: RunPlan;
  /** `clear`: every drive got there. `stuck`: not within the limit. `broken`: the runner itself could not go on. */
  readonly ended: 'clear' | 'stuck' | 'broken';
  readonly wrongVerdicts: readonly string[];
  readonly lostFiles: readonly string[];
  /** Other promises that were broken. */
  readonly otherFaults: readonly string[];
  readonly checkedVerdicts: number;
  /** Why the roll held each time that the operator had to ask for a retry, though everything should go on by itself. */
  readonly nudges: readonly string[];
  readonly missedMoments: number;
  readonly seconds: number;
  readonly story: readonly string[];
  /** The rolls that were cleared and what their drives held, for a last look when the studio closes. */
  readonly cleared: readonly ClearedRoll[];
}

export interface ClearedRoll {
  readonly roll: { readonly id: string; readonly shootId: string; readonly recorder: string };
  readonly footage: ReadonlyMap<string, string>;
}

/** Makes one run in a studio: records drives, plugs them in, strikes, mends, and holds what comes of it against the truth. */
export async function runOnce(studio: TortureStudio, plan: RunPlan): Promise<RunOutcome> {
  const begunMs = performance.now();
  const drives = new Map<string, RecorderDrive>();
  const truth = new TruthKeeper(studio, drives);
  let scene: Scene | null = null;
  let witness: Witness | null = null;
  const stumbles: string[] = [];
  const outcome = { missedMoments: 0, nudges: [] as readonly string[], lostFiles: [] as readonly string[] };
  const end = (ended: RunOutcome['ended'], cleared: readonly ClearedRoll[] = []): RunOutcome => ({
    plan,
    ended,
    ...outcome,
    wrongVerdicts: truth.wrong,
    otherFaults: [
      ...truth.otherFaults,
      ...[...studio.destinations, studio.data].flatMap((drive) => drive.takeStrays()),
    ],
    checkedVerdicts: truth.checkedCount,
    seconds: (performance.now() - begunMs) / 1000,
    story: [...(scene?.story ?? []), ...stumbles],
    cleared,
  });
  try {
    await untilHealthy(studio.service);
    for (const recording of plan.recordings) {
      const folder = join(studio.folder, `recorded-${plan.index}-${recording.recorder}`);
      drives.set(recording.recorder, await RecorderDrive.record(recording, folder));
    }
    witness = await Witness.begin(studio.service, {
      onVerdict: (given) => truth.take(given),
      onLook: (rolls) => truth.compareWithDrives(rolls),
    });
    const used = await Promise.all(
      studio.destinations.map(async ({ name, root }) => [name, await usedBytes(root)] as const),
    );
    scene = new Scene({ studio, plan, drives, truth, witness, usedAtStart: new Map(used) });
    await plugIn(scene);
    outcome.missedMoments = await strikeAll(scene);
    const verdict = await untilAllClear(scene);
    outcome.nudges = verdict.nudges;
    await releasePace(scene);
    await scene.truth.checkAll();
    if (!verdict.isClear) return end('stuck');
    const cleared = [...drives.values()].flatMap((drive) => {
      const roll = scene?.rollOf(drive);
      return roll === null || roll === undefined ? [] : [{ roll, footage: drive.footage }];
    });
    outcome.lostFiles = await findLosses(scene, cleared);
    return end('clear', cleared);
  } catch (error) {
    stumbles.push(`the runner stumbled: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
    return end('broken');
  } finally {
    await witness?.[Symbol.asyncDispose]();
    for (const drive of drives.values()) await drive[Symbol.asyncDispose]();
  }
}

async function untilHealthy(service: Service): Promise<void> {
  const isHealthy = async (): Promise<true | null> => {
    const health = await service.get<{ ok: boolean }>('/v1/health').catch(() => null);
    return health?.ok === true ? true : null;
  };
  await service.until('every part of the service is well', isHealthy, 120_000);
}

async function plugIn(scene: Scene): Promise<void> {
  const hasBadRegion = scene.plan.strikes.some(({ kind }) => kind.startsWith('a region'));
  await Promise.all(
    [...scene.drives.values()].map((drive) => {
      const manner = hasBadRegion && drive === scene.target ? 'has a bad region' : 'plain';
      return drive.insert(scene.newSlot(), manner);
    }),
  );
  scene.tell(`plugged in: ${[...scene.drives.keys()].join(', ')}`);
}

/** One strike after the other; gives how many moments did not come. */
async function strikeAll(scene: Scene): Promise<number> {
  let missed = 0;
  for (const strike of scene.plan.strikes) {
    const hasCome = await untilMoment(scene, strike);
    if (!hasCome) missed += 1;
    scene.tell(`${strike.moment}${hasCome ? '' : ' (it did not come)'}: ${strike.kind}`);
    // Nothing is left to be slowed down where the work is over, but our own look at the media.
    if (!hasCome || scene.targetRoll?.activity === 'resting') await releasePace(scene);
    // What was said so far is checked against the media as they are before the fault.
    await scene.witness.look();
    await scene.truth.checkPending();
    const undo = await ALL_FAULTS[strike.kind](scene, strike);
    await wait(strike.holdMs);
    await undo();
    await releasePace(scene);
  }
  return missed;
}
