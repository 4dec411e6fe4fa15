import type { ShootPicture } from './shoot-picture.ts';

/**
 * The files of a shoot's records that are always there, by what they are. Names are relative to the folder `records`
 * in the shoot's folder: references in the files resolve from there and from nowhere else.
 */
export const RECORD_NAMES = {
  report: 'report.html',
  json: 'sync-groups.json',
  groupsCsv: 'sync-groups.csv',
  findingsCsv: 'findings.csv',
  shootTimeline: 'shoot.otio',
} as const;

/** The plan of proxies, which is there once one was made. */
export const PROXY_PLAN = 'proxy-plan.json';

/** The folder of the groups' timelines below the records. It holds nothing else: what is no longer named may be removed. */
export const GROUP_TIMELINES = 'sync-groups';

/** The name of one group's timeline below the records. */
export function groupTimelineName(groupId: string): string {
  return `${GROUP_TIMELINES}/${groupId}.otio`;
}

/** Every file that `renderShootRecords` gives for this picture, in its order. */
export function recordNames(picture: Pick<ShootPicture, 'groups' | 'proxies'>): readonly string[] {
  const plan = picture.proxies === null ? [] : [PROXY_PLAN];
  return [...Object.values(RECORD_NAMES), ...plan, ...picture.groups.map((group) => groupTimelineName(group.id))];
}
