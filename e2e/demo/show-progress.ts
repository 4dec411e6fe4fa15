import { setTimeout as wait } from 'node:timers/promises';
import logUpdate from 'log-update';
import type { Service, ShownRoll } from '../service/start-service.ts';

const LOOK_EVERY_MS = 200;
const BAR_WIDTH = 24;
const GIVE_UP_AFTER_MS = 180_000;

/** Shows each roll's way live until all have their verdict: bars on a terminal, a line per change where it is piped. */
export async function showProgress(service: Service, count: number): Promise<void> {
  const isLive = process.stdout.isTTY;
  const deadline = performance.now() + GIVE_UP_AFTER_MS;
  const said = new Map<string, string>();
  for (;;) {
    const rolls = await service.rolls();
    if (isLive) logUpdate(rolls.map(bar).join('\n') || 'The drives are settling ...');
    else for (const roll of rolls) sayChange(roll, said);
    if (rolls.length === count && rolls.every((roll) => roll.activity === 'resting')) break;
    if (performance.now() > deadline) throw new Error('The rolls had no verdict in time.');
    await wait(LOOK_EVERY_MS);
  }
  if (isLive) logUpdate.done();
}

function bar({ recorder, activity, progress: { fraction } }: ShownRoll): string {
  const filled = Math.round(fraction * BAR_WIDTH);
  return `  ${recorder.padEnd(8)} [${'#'.repeat(filled)}${'.'.repeat(BAR_WIDTH - filled)}] ${String(Math.floor(fraction * 100)).padStart(3)} %  ${activity}`;
}

function sayChange(roll: ShownRoll, said: Map<string, string>): void {
  const line = `  ${roll.recorder.padEnd(8)} ${String(Math.floor(roll.progress.fraction * 100)).padStart(3)} %  ${roll.activity}`;
  if (said.get(roll.recorder) === roll.activity) return;
  said.set(roll.recorder, roll.activity);
  process.stdout.write(`${line}\n`);
}
