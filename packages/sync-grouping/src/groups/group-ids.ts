import { compareText } from '../in-order.ts';
import type { SyncGroup } from '../sync-group.ts';

/** A group as far as its identity goes. */
type Known = Pick<SyncGroup, 'id' | 'members'>;

/** The identity of a new group: its date and first label to be read by people, and its first clip to tell it apart. */
export function proposeGroupId(first: {
  readonly date: string;
  readonly timecode: string;
  readonly clipId: string;
}): string {
  return `${first.date}-${first.timecode.replaceAll(/[^0-9]/g, '')}-${hashOf(first.clipId)}`;
}

/**
 * Gives each group the identity of the earlier group that it has most of its own clips in common with, and each of the
 * others an id that nothing else has or had. Independent of the order of the earlier groups.
 */
export function keepGroupIds(groups: readonly SyncGroup[], previous: readonly Known[]): readonly SyncGroup[] {
  const kept = matchGroups(groups, previous);
  const taken = new Set([...kept.values(), ...previous.map((group) => group.id)]);
  return groups.map((group, at) => {
    const known = kept.get(at);
    if (known !== undefined) return { ...group, id: known };
    let id = group.id;
    for (let copy = 2; taken.has(id); copy += 1) id = `${group.id}-${copy}`;
    taken.add(id);
    return { ...group, id };
  });
}

function matchGroups(groups: readonly SyncGroup[], previous: readonly Known[]): ReadonlyMap<number, string> {
  if (previous.length === 0) return new Map();
  const formerIds = new Map<string, string>();
  for (const group of previous) for (const clipId of ownClips(group)) formerIds.set(clipId, group.id);
  const candidates = groups.flatMap((group, at) => {
    const common = new Map<string, number>();
    for (const clipId of ownClips(group)) {
      const former = formerIds.get(clipId);
      if (former !== undefined) common.set(former, (common.get(former) ?? 0) + 1);
    }
    return [...common].map(([id, count]) => ({ at, id, count }));
  });
  const kept = new Map<number, string>();
  const given = new Set<string>();
  const inOrder = candidates.toSorted(
    (left, right) => right.count - left.count || compareText(left.id, right.id) || left.at - right.at,
  );
  for (const { at, id } of inOrder) {
    if (kept.has(at) || given.has(id)) continue;
    kept.set(at, id);
    given.add(id);
  }
  return kept;
}

/** Clips that run through several groups tell none of them apart. */
function ownClips(group: Known): readonly string[] {
  return group.members.filter((member) => !member.isShared).map((member) => member.clipId);
}

/** FNV-1a over UTF-16 code units, 32 bits: short, and the same everywhere. */
function hashOf(text: string): string {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
  return (hash >>> 0).toString(36).padStart(7, '0');
}
