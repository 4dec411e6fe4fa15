import { findingsCsv } from './csv/findings-csv.ts';
import { groupsCsv } from './csv/groups-csv.ts';
import { printProxyPlan } from './data/print-proxy-plan.ts';
import { printRecordsJson } from './data/print-records-json.ts';
import { groupTimeline } from './otio/group-timeline.ts';
import { shootTimeline } from './otio/shoot-timeline.ts';
import { groupTimelineName, PROXY_PLAN, RECORD_NAMES } from './record-names.ts';
import { reportPage } from './report/report-page.ts';
import type { ShootPicture } from './shoot-picture.ts';
import { viewOf } from './shoot-view.ts';

/**
 * The shoot's records as texts by file name, in the order of `recordNames`. The same picture gives the same bytes.
 * Names are relative to `<shoot>/records` at the destination that the clips' places are of. Throws CLIP_NOT_PICTURED when
 * the picture names a clip that it does not hold.
 */
export function renderShootRecords(picture: ShootPicture): ReadonlyMap<string, string> {
  const view = viewOf(picture);
  return new Map([
    [RECORD_NAMES.report, reportPage(view)],
    [RECORD_NAMES.json, printRecordsJson(picture)],
    [RECORD_NAMES.groupsCsv, groupsCsv(picture, view.clips)],
    [RECORD_NAMES.findingsCsv, findingsCsv(picture, view.clips)],
    [RECORD_NAMES.shootTimeline, shootTimeline(view)],
    ...(picture.proxies === null ? [] : [[PROXY_PLAN, printProxyPlan(picture, picture.proxies)] as const]),
    ...picture.groups.map((group) => [groupTimelineName(group.id), groupTimeline(group, view)] as const),
  ]);
}
