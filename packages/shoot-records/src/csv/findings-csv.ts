import type { ClipIndex } from '../clip-index.ts';
import type { PicturedFinding, ShootPicture } from '../shoot-picture.ts';
import { type Cell, printCsv } from './print-csv.ts';

const COLUMNS = [
  'number',
  'severity',
  'code',
  'group',
  'group_id',
  'group_start',
  'recorder',
  'clip_count',
  'clips',
  'why',
  'remedy',
  'found_at',
  'acknowledged_by',
  'acknowledged_at',
  'note',
] as const;

/** `findings.csv`: one row for each finding, the gravest first. The paths of several clips stand on lines of their own. */
export function findingsCsv({ findings, groups }: ShootPicture, clips: ClipIndex): string {
  const places = new Map(groups.map((group, at) => [group.id, { number: at + 1, start: group.start.timecode }]));
  return printCsv(
    COLUMNS,
    findings.map((finding, at) => {
      const place = places.get(finding.groupId ?? '');
      return [
        at + 1,
        finding.severity,
        finding.code,
        place?.number ?? null,
        finding.groupId,
        place?.start ?? null,
        finding.recorder,
        finding.clipIds.length,
        finding.clipIds.map((clipId) => clips.find(clipId)?.path ?? clipId).join('\n'),
        finding.why,
        finding.remedy,
        finding.at,
        ...acknowledgementCells(finding),
      ];
    }),
  );
}

function acknowledgementCells({ acknowledged }: PicturedFinding): readonly Cell[] {
  return [acknowledged?.by ?? null, acknowledged?.at ?? null, acknowledged?.note ?? null];
}
