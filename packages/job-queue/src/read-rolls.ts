import { Roll } from '@quayside/shoot';
import { batchesOf } from './batches-of.ts';
import { ask, parseRow, sendAll, type View } from './view.ts';

export interface VersionedRoll {
  readonly version: string;
  readonly roll: Roll | null;
}

/** Rolls by id as they were read, in the order of their ids. */
export type KnownRolls = ReadonlyMap<string, VersionedRoll>;

/** One roll and its version; null and empty when there is none. */
export async function readRoll(view: View, id: string): Promise<VersionedRoll> {
  return parseRoll(view, id, await ask(view, (redis) => redis.hmgetBuffer(rollKey(view, id), 'version', 'roll')));
}

/**
 * The rolls of these ids. Of what is known those are taken that have the version that is asked for, since parsing a
 * thousand rolls takes a quarter of a second and whoever looks at all of them looks again soon. What is read goes into `read` at
 * once, also when the rest fails.
 */
export async function readRolls(
  view: View,
  versions: ReadonlyMap<string, string>,
  { known, read = new Map() }: { readonly known: KnownRolls; readonly read?: Map<string, VersionedRoll> },
): Promise<KnownRolls> {
  const ids = [...versions.keys()].toSorted();
  const isKnown = (id: string): boolean => [known, read].some((rolls) => rolls.get(id)?.version === versions.get(id));
  for (const batch of batchesOf(
    ids.filter((id) => !isKnown(id)),
    100,
  )) {
    const commands = view.redis.pipeline();
    for (const id of batch) commands.hmgetBuffer(rollKey(view, id), 'version', 'roll');
    const replies = await sendAll(view, commands);
    for (const [index, id] of batch.entries()) read.set(id, parseRoll(view, id, replies[index]));
  }
  return new Map(
    ids.flatMap((id): [string, VersionedRoll][] => {
      const row = read.get(id) ?? known.get(id);
      return row === undefined ? [] : [[id, row]];
    }),
  );
}

/** Where a roll lies: a hash of its `version`, the `roll`, and `notes`, which counts what was noted beside it. */
export function rollKey(view: View, id: string): string {
  return view.key('roll', id);
}

function parseRoll(view: View, id: string, reply: unknown): VersionedRoll {
  const [version, text]: unknown[] = Array.isArray(reply) ? reply : [];
  return {
    version: Buffer.isBuffer(version) ? version.toString() : '',
    roll: parseRow(view, Roll, { key: rollKey(view, id), text }),
  };
}
