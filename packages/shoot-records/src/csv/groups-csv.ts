import type { GroupMember } from '@quayside/sync-grouping';
import { printDecimal } from '@quayside/timecode';
import type { ClipIndex } from '../clip-index.ts';
import type { PicturedGroup, ShootPicture } from '../shoot-picture.ts';
import { type Cell, printCsv } from './print-csv.ts';

const GROUP_COLUMNS = ['group', 'group_id', 'day', 'group_start', 'group_frames', 'group_rate', 'editable'] as const;
const CLIP_COLUMNS = ['recorder', 'role', 'roll', 'path', 'place'] as const;
const MEMBER_COLUMNS = [
  'offset_frames',
  'offset_samples',
  'sample_rate',
  'offset_seconds',
  'offset_numerator',
  'offset_denominator',
  'part_unit',
  'part_from',
  'part_length',
  'part_rate_numerator',
  'part_rate_denominator',
  'shared',
  'placed_by',
  'confidence',
  'rests_on',
] as const;
const UNGROUPED_COLUMNS = ['ungrouped_code', 'ungrouped_why'] as const;

/** `sync-groups.csv`: one row for each member of each group, then one for each clip in no group, whose group columns are empty. */
export function groupsCsv({ groups, ungrouped }: ShootPicture, clips: ClipIndex): string {
  const rows = [
    ...groups.flatMap((group, at) =>
      group.members.map((member) => [
        ...groupCells(group, at + 1),
        ...clipCells(member.clipId, clips),
        ...memberCells(member),
        ...UNGROUPED_COLUMNS.map(() => null),
      ]),
    ),
    ...ungrouped.map(({ clipId, code, why }) => [
      ...GROUP_COLUMNS.map(() => null),
      ...clipCells(clipId, clips),
      ...MEMBER_COLUMNS.map(() => null),
      code,
      why,
    ]),
  ];
  return printCsv([...GROUP_COLUMNS, ...CLIP_COLUMNS, ...MEMBER_COLUMNS, ...UNGROUPED_COLUMNS], rows);
}

function groupCells(group: PicturedGroup, number: number): readonly Cell[] {
  const { day, start, lengthInFrames, rate, edit } = group;
  return [number, group.id, day.date, start.timecode, lengthInFrames, rate.name, edit.state === 'editable'];
}

function clipCells(clipId: string, clips: ClipIndex): readonly Cell[] {
  const { recorder, role, rollId, path, place } = clips.get(clipId);
  return [recorder, role, rollId, path, place];
}

function memberCells(member: GroupMember): readonly Cell[] {
  const { offset, range } = member;
  return [
    member.offsetInFrames,
    member.offsetInSamples,
    member.sampleRate,
    Number(printDecimal(offset, 9)),
    offset.numerator,
    offset.denominator,
    range.unit,
    range.from,
    range.length,
    range.rate.numerator,
    range.rate.denominator,
    member.isShared,
    member.placedBy,
    member.confidence,
    member.restsOn,
  ];
}
