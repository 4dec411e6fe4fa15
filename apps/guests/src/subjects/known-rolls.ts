import type { Roll } from '@quayside/shoot';
import type { KnownSubject, ProvenRoll } from './subjects-of-shoot.ts';

interface Kept {
  readonly key: string;
  readonly proven: ProvenRoll;
  madeFrom: string;
  subjects: readonly KnownSubject[];
}

/**
 * The proven rolls of a shoot and what guests' steps can run on in them, kept while the roll stays as it is: a look at ten
 * thousand clips would else cost more than running a short step on a hundred of them.
 */
export class KnownRolls {
  readonly #kept = new Map<string, Kept>();

  /** The roll as it was read last, when neither it nor the place of its copies has changed since; else it is read. */
  async proven(
    roll: Roll,
    destination: ProvenRoll['destination'],
    read: () => Promise<ProvenRoll>,
  ): Promise<ProvenRoll> {
    const key = JSON.stringify([roll, destination]);
    const known = this.#kept.get(roll.id);
    if (known?.key === key) return known.proven;
    const proven = await read();
    this.#kept.set(roll.id, { key, proven, madeFrom: '', subjects: [] });
    return proven;
  }

  /** The subjects in a roll that was asked for above, made anew only when `from` is another: what else they are made from. */
  subjects(roll: Roll, from: string, make: () => readonly KnownSubject[]): readonly KnownSubject[] {
    const kept = this.#kept.get(roll.id);
    if (kept === undefined) return make();
    if (kept.madeFrom !== from) {
      kept.subjects = make();
      kept.madeFrom = from;
    }
    return kept.subjects;
  }

  /** Lets go of rolls that are not among these. */
  keepOnly(ids: ReadonlySet<string>): void {
    for (const id of this.#kept.keys()) if (!ids.has(id)) this.#kept.delete(id);
  }
}
