import { type FileEntry, type Instant, isClockUnset, type Shoot, type Volume } from '@quayside/shoot';
import { CLOCK_TOLERANCE_MS } from './clock-tolerance.ts';
import type { IntakeParts } from './intake-parts.ts';

/**
 * The shoot of a new roll: the one that the operator assigned, else the named shoot that is open, else the day of the
 * roll's newest footage. Opens it when it is not there yet.
 */
export async function chooseShoot(
  { store, configuration }: IntakeParts,
  { volume, files, now }: { readonly volume: Volume; readonly files: readonly FileEntry[]; readonly now: Instant },
): Promise<string> {
  const assigned = (await store.assignments())[volume.identity.key]?.shootId ?? null;
  if (assigned !== null)
    return openShoot(store, { id: assigned, name: assigned, openedAt: now, closedAt: null, named: true });
  const named = (await store.shoots())
    .filter((shoot) => shoot.named && shoot.closedAt === null)
    .toSorted((a, b) => (a.openedAt < b.openedAt ? 1 : -1));
  if (named[0] !== undefined) return named[0].id;
  const day = shootDay(newestBefore(files, Date.parse(now)), configuration.shoots.dayBoundary);
  return openShoot(store, { id: day, name: day, openedAt: now, closedAt: null, named: false });
}

/**
 * The local day, `yyyy-mm-dd`, that a moment belongs to when days begin at `dayBoundary` (`hh:mm`): footage of one in the
 * morning belongs to the evening before.
 */
export function shootDay(momentMs: number, dayBoundary: string): string {
  const [hours = 0, minutes = 0] = dayBoundary.split(':').map(Number);
  const moment = new Date(momentMs);
  const isBeforeBoundary = moment.getHours() * 60 + moment.getMinutes() < hours * 60 + minutes;
  const day = new Date(moment.getFullYear(), moment.getMonth(), moment.getDate() - (isBeforeBoundary ? 1 : 0), 12);
  return [day.getFullYear(), String(day.getMonth() + 1).padStart(2, '0'), String(day.getDate()).padStart(2, '0')].join(
    '-',
  );
}

/** The newest time of the files; a recorder whose clock is ahead of ours is taken as recording now. */
function newestBefore(files: readonly FileEntry[], nowMs: number): number {
  const newest = files.reduce((latest, file) => Math.max(latest, file.modifiedMs), 0);
  return newest > nowMs + CLOCK_TOLERANCE_MS || isClockUnset(newest) ? nowMs : newest;
}

async function openShoot(store: IntakeParts['store'], shoot: Shoot): Promise<string> {
  if ((await store.shoot(shoot.id)) !== null) return shoot.id;
  await store.saveShoot(shoot);
  await store.publish([
    { type: 'shoot.opened', at: shoot.openedAt, subject: shoot.id, sentence: `Shoot ${shoot.name} is open.` },
  ]);
  return shoot.id;
}
