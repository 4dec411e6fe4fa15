import { type Failure, failureOf } from '@quayside/shoot';
import type { MountEntry } from '../mounts/mount-entry.ts';
import { readMounts } from '../mounts/read-mounts.ts';
import type { AttachedMount } from './attached-mount.ts';
import { Alarm } from './alarm.ts';
import { openNudges, rootsWithEvents } from './open-nudges.ts';
import { SightingMemory, type SightingOptions, sightVolumes } from './present-volumes.ts';
import type { SightedVolume } from './sighted-volume.ts';
import { type VolumeChange, volumeChanges } from './volume-changes.ts';

export interface WatchOptions extends SightingOptions {
  /**
   * Milliseconds between two looks at the mount table, 500 by default: with the time for asking who it is, a volume is told within
   * one second. A look costs a fraction of a millisecond on Linux, and a process on macOS.
   */
  readonly intervalMs?: number;
  readonly signal: AbortSignal;
}

/**
 * Tells of volumes that come, go or are mounted anew, beginning with those that are there, until the signal aborts. It goes on
 * looking through every trouble, tells each through `onTrouble` once until it has passed, and never takes trouble for a departure.
 * One volume that does not answer does not hold up the others.
 */
export async function* watchVolumes(options: WatchOptions): AsyncGenerator<VolumeChange, void, undefined> {
  const { signal, roots, intervalMs = 500 } = options;
  const alarm = new Alarm();
  const memory = new SightingMemory();
  const troubles = new Troubles(options.onTrouble ?? (() => {}));
  const ring = (): void => alarm.ring();
  const learn = (mount: AttachedMount): Promise<void> =>
    memory.identities.learn(mount).then(ring, (error) => troubles.note(failureOf(error)));
  const nudges = openNudges(rootsWithEvents(roots, await mountsOrNone()), {
    onNudge: ring,
    onTrouble: options.onTrouble ?? (() => {}),
  });
  signal.addEventListener('abort', ring);
  try {
    let before: readonly SightedVolume[] = [];
    while (!signal.aborted) {
      const sighting = await sightVolumes({ ...options, onTrouble: troubles.note }, memory).catch((error: unknown) => {
        troubles.note(failureOf(error));
        return null;
      });
      troubles.endTurn();
      if (sighting) {
        for (const mount of sighting.unknown) void learn(mount);
        yield* volumeChanges(before, sighting.volumes);
        before = sighting.volumes;
      }
      await alarm.sleep(intervalMs);
    }
  } finally {
    signal.removeEventListener('abort', ring);
    await nudges.close();
  }
}

/** Passes each trouble on once, and again only after a turn without it. */
class Troubles {
  readonly #tell: (failure: Failure) => void;
  #lastTurn = new Set<string>();
  #thisTurn = new Set<string>();

  constructor(tell: (failure: Failure) => void) {
    this.#tell = tell;
  }

  readonly note = (failure: Failure): void => {
    const isNew = !this.#lastTurn.has(failure.sentence) && !this.#thisTurn.has(failure.sentence);
    this.#thisTurn.add(failure.sentence);
    if (isNew) this.#tell(failure);
  };

  endTurn(): void {
    this.#lastTurn = this.#thisTurn;
    this.#thisTurn = new Set();
  }
}

/** Only chooses where file events are worth watching; the loop itself tells of a table that cannot be read. */
async function mountsOrNone(): Promise<readonly MountEntry[]> {
  return readMounts().catch(() => []);
}
