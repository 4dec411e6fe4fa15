import type { ShootSubject } from '@quayside/step-sdk';
import type { Clip, Group } from './clip.ts';

export interface SheetPlan {
  /** Null for the clips that are in no group. */
  readonly group: Group | null;
  /** A name that every file system takes. */
  readonly file: string;
  readonly clips: readonly Clip[];
}

/** One sheet for each group, its clips in the group's order, and one for the clips with a picture that are in none. */
export function planSheets({ clips, groups }: Pick<ShootSubject, 'clips' | 'groups'>): readonly SheetPlan[] {
  const byId = new Map(clips.map((clip) => [clip.id, clip]));
  const sheets = groups.map((group) => ({
    group,
    file: `${safeName(group.id)}.svg`,
    clips: group.members.flatMap(({ clipId }) => byId.get(clipId) ?? []),
  }));
  const grouped = new Set(groups.flatMap(({ members }) => members.map(({ clipId }) => clipId)));
  const rest = clips.filter((clip) => !grouped.has(clip.id) && clip.facts.picture !== null);
  const all = rest.length === 0 ? sheets : [...sheets, { group: null, file: 'in-no-group.svg', clips: rest }];
  return all.map((sheet, place) => ({ ...sheet, file: unlikeOthers(sheet.file, place, all) }));
}

function safeName(id: string): string {
  return id.replaceAll(/[^A-Za-z0-9-]+/g, '-').slice(0, 100);
}

function unlikeOthers(file: string, place: number, all: readonly { readonly file: string }[]): string {
  const isTaken = all.some((other, at) => at < place && other.file.toLowerCase() === file.toLowerCase());
  return isTaken ? `${place + 1}-${file}` : file;
}
