import type { Copy, Roll } from '@quayside/shoot';
import type { SyncGroup } from '@quayside/sync-grouping';
import type { GroupAnswer } from './group-answer.ts';

/** The copies of one roll's files, `{ [destination]: { [path]: Copy } }`. */
export type CopiesOfRoll = Readonly<Record<string, Readonly<Record<string, Copy>>>>;

/** A group with where it is editable: at every destination that takes one of its rolls, counted clip by clip. */
export function describeGroup(
  group: SyncGroup,
  rolls: ReadonlyMap<string, Roll>,
  copies: ReadonlyMap<string, CopiesOfRoll>,
): GroupAnswer {
  const places = group.members.map(({ clipId }) => placeOf(clipId));
  const names = new Set(places.flatMap(({ rollId }) => Object.keys(rolls.get(rollId)?.destinations ?? {})));
  const unproven = [...names].toSorted().map((name): [string, number] => {
    const missing = places.filter(({ rollId, path }) => copies.get(rollId)?.[name]?.[path]?.state !== 'verified');
    return [name, missing.length];
  });
  return {
    ...group,
    editableAt: unproven.filter(([, count]) => count === 0).map(([name]) => name),
    unproven: Object.fromEntries(unproven.filter(([, count]) => count > 0)),
  };
}

/** A clip's id is its roll and its path in it; a roll's id holds no slash. */
function placeOf(clipId: string): { readonly rollId: string; readonly path: string } {
  const end = clipId.indexOf('/');
  return { rollId: clipId.slice(0, end), path: clipId.slice(end + 1) };
}
