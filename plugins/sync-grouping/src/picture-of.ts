import { ClipRendering, PlanOnRecord } from '@quayside/proxy-planning';
import { matterOf, type Acknowledgement, type Instant } from '@quayside/shoot';
import type { ShootPicture } from '@quayside/shoot-records';
import type { ShootMaterial, ShootPlace } from '@quayside/step-sdk/built-in';
import type { GroupingResult, SyncGroup } from '@quayside/sync-grouping';

type PicturedGroup = ShootPicture['groups'][number];

/** What the records at one destination show: the groups with what of them lies there, and the findings with who has seen them. */
export function pictureOf(
  shoot: { readonly id: string; readonly material: ShootMaterial; readonly grouping: GroupingResult },
  place: ShootPlace,
  madeAt: Instant,
): ShootPicture {
  const { id, material, grouping } = shoot;
  return {
    shoot: { id, name: material.name },
    madeAt,
    clips: material.clips.map((clip) => ({
      ...clip,
      place: place.paths.get(clip.id) ?? null,
      proxy: place.proxies.get(clip.id) ?? null,
      ...renderingOf(material.renderings.get(clip.id)),
    })),
    groups: grouping.groups.map((group) => ({ ...group, edit: editStateOf(group, material, place) })),
    ungrouped: grouping.ungrouped,
    findings: grouping.findings.map((finding) => ({
      ...finding,
      acknowledged: seenBy(material.acknowledgements[matterOf(finding)]),
    })),
    proxies: PlanOnRecord.safeParse(material.proxyPlan).data ?? null,
    guests: [...place.guests],
  };
}

function renderingOf(kept: unknown): { readonly rendering?: ClipRendering } {
  const rendering = ClipRendering.safeParse(kept).data;
  return rendering === undefined ? {} : { rendering };
}

function editStateOf(group: SyncGroup, { clips }: ShootMaterial, place: ShootPlace): PicturedGroup['edit'] {
  const pathOf = new Map(clips.map((clip) => [clip.id, clip.path]));
  const missing = group.members
    .filter(({ clipId }) => !place.paths.has(clipId))
    .map(({ clipId, recorder }) => ({
      clipId,
      why: `${pathOf.get(clipId) ?? clipId} of ${recorder} has no proven copy at ${place.destination} yet.`,
    }));
  return missing.length === 0 ? { state: 'editable' } : { state: 'waiting', missing };
}

function seenBy(acknowledgement: Acknowledgement | undefined): ShootPicture['findings'][number]['acknowledged'] {
  if (acknowledgement === undefined) return null;
  const { by, at, note } = acknowledgement;
  return { by, at, note };
}
