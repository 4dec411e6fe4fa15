import { randomUUID } from 'node:crypto';
import { mkdir, realpath, rm } from 'node:fs/promises';
import { join, sep } from 'node:path';
import { QuaysideError, type Remedy } from '@quayside/shoot';
import { type GuestRights, keyOfRights } from './run/guest-rights.ts';
import { type Guest, startGuest } from './run/start-guest.ts';

interface PoolParts {
  readonly workFolder: string;
  readonly idleMs: number;
}

interface Kept {
  readonly guest: Guest;
  readonly rights: GuestRights;
  timer: NodeJS.Timeout | null;
}

/** For whom a process is started, for what is told when it does not get ready. */
export interface Whose {
  readonly plugin: string;
  readonly step?: string;
}

/** It has shown that it loads when it was described; on a busy machine the lowest priority gets little. */
const READY_WITHIN_MS = 120_000;

/** The processes of guests: one for each run under way, and those that wait a while for the next run with the same rights. */
export class GuestPool {
  readonly #parts: PoolParts;
  readonly #kept = new Map<Guest, Kept>();
  readonly #idle = new Map<string, Guest[]>();

  constructor(parts: PoolParts) {
    this.#parts = parts;
  }

  /** A process with these rights that is ready and has no work. @throws QuaysideError `PLUGIN_BROKEN` when it does not load */
  async take(rights: GuestRights, whose: Whose): Promise<Guest> {
    const waiting = this.#idle.get(keyOfRights(rights)) ?? [];
    for (let guest = waiting.pop(); guest !== undefined; guest = waiting.pop()) {
      this.#stopClock(guest);
      if (guest.isAlive()) return guest;
      await this.#forget(guest);
    }
    return this.#start(rights, whose);
  }

  /** Gives a process back. One that is not at rest is ended. */
  async giveBack(guest: Guest, isAtRest: boolean): Promise<void> {
    const kept = this.#kept.get(guest);
    if (kept === undefined || !isAtRest || !guest.isAlive()) return this.#forget(guest);
    const key = keyOfRights(kept.rights);
    this.#idle.set(key, [...(this.#idle.get(key) ?? []), guest]);
    // What it says without work is of no account, but it may not say much.
    guest.listen({ ...SILENT, breach: () => void this.#forget(guest) });
    kept.timer = setTimeout(() => void this.#forget(guest), this.#parts.idleMs);
    kept.timer.unref();
  }

  async letGoOf(folder: string): Promise<void> {
    const idle = [...this.#idle.values()].flat();
    const reading = idle.filter((guest) =>
      this.#kept.get(guest)?.rights.copyFolders.some((one) => one === folder || one.startsWith(folder + sep)),
    );
    await Promise.all(reading.map((guest) => this.#forget(guest)));
  }

  async close(): Promise<void> {
    await Promise.all([...this.#kept.keys()].map((guest) => this.#forget(guest)));
  }

  async #start(rights: GuestRights, whose: Whose): Promise<Guest> {
    const copyFolders = await Promise.all(rights.copyFolders.map((one) => realpath(one)));
    const folder = join(this.#parts.workFolder, randomUUID());
    await mkdir(folder, { mode: 0o700 });
    const guest = startGuest({ ...rights, copyFolders }, folder);
    this.#kept.set(guest, { guest, rights, timer: null });
    try {
      await ready(guest, whose);
      return guest;
    } catch (error) {
      await this.#forget(guest);
      throw error;
    }
  }

  #stopClock(guest: Guest): void {
    const timer = this.#kept.get(guest)?.timer;
    if (timer) clearTimeout(timer);
    guest.listen(null);
  }

  async #forget(guest: Guest): Promise<void> {
    this.#stopClock(guest);
    const kept = this.#kept.get(guest);
    this.#kept.delete(guest);
    if (kept !== undefined) {
      const key = keyOfRights(kept.rights);
      const others = (this.#idle.get(key) ?? []).filter((one) => one !== guest);
      if (others.length > 0) this.#idle.set(key, others);
      else this.#idle.delete(key);
    }
    await guest.kill();
    await rm(guest.workFolder, { recursive: true, force: true });
  }
}

const SILENT = { message: () => undefined, printed: () => undefined, ended: () => undefined };

async function ready(guest: Guest, { plugin, step }: Whose): Promise<void> {
  const { promise, resolve, reject } = Promise.withResolvers<void>();
  const words: string[] = [];
  const fail = (why: string): void =>
    reject(broken(plugin, `${step === undefined ? '' : `(for its step "${step}") `}${why}`));
  guest.listen({
    message: (said) => {
      if (said.type === 'ready') resolve();
      else if (said.type === 'broken')
        fail(said.isDenied ? `it tried to ${said.text}, to which it has no right.` : said.text);
      else fail('it sent a message that no step sends.');
    },
    printed: (line) => words.push(...(words.length < 5 ? [line] : [])),
    breach: (what) => fail(`it ${what}.`),
    ended: ({ code, signal }) =>
      fail(`its process ended (${signal ?? `exit code ${code}`}). ${words.join(' ').slice(0, 1000)}`),
  });
  const tooLong = `it took longer than ${READY_WITHIN_MS / 1000} s.`;
  // The computer may have had no time for it: it is no fault of the plugin's code for sure.
  const limit = setTimeout(() => reject(broken(plugin, tooLong, 'later')), READY_WITHIN_MS);
  try {
    await promise;
  } finally {
    clearTimeout(limit);
    guest.listen(null);
  }
}

/** A plugin that could not be loaded. */
export function broken(plugin: string, why: string, retry: Remedy = 'never'): QuaysideError {
  return new QuaysideError({
    code: 'PLUGIN_BROKEN',
    sentence: `Plugin "${plugin}" cannot be loaded: ${why} Correct it, or turn it off under \`plugins\` in the configuration.`,
    retry,
  });
}
