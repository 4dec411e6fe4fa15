import type { Store } from '@quayside/job-queue';

/** Shoots that need no look any more, since this process started. */
export type Told = Set<string>;

/**
 * Tells of every shoot that is complete: closed, so that no roll comes to it by itself, and all its rolls clear. Once for
 * each count of rolls, also over restarts.
 */
export async function tellCompleteShoots(store: Store, told: Told, now: string): Promise<void> {
  for (const shoot of await store.shoots()) {
    if (shoot.closedAt === null || told.has(shoot.id)) continue;
    const rolls = await store.rollsOfShoot(shoot.id);
    if (rolls.length === 0 || rolls.some(({ clearance }) => clearance.verdict !== 'clear')) continue;
    const count = String(rolls.length);
    if ((await store.shootProgress(shoot.id)).completed !== count) {
      const sentence = `Shoot ${shoot.name} is closed, and all ${count} of its rolls are clear.`;
      const data = { shoot: shoot.id, rolls: count, severity: 'info' };
      await store.publish([{ type: 'shoot.complete', at: now, subject: shoot.id, sentence, data }]);
      // Last: after a crash in between it is told twice, and people still once.
      await store.noteShootProgress(shoot.id, { completed: count });
    }
    // A shoot that is opened anew, or gets a roll, is looked at again after the next start.
    told.add(shoot.id);
  }
}
