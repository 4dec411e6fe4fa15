import type { PicturedFinding, PicturedGroup } from '../shoot-picture.ts';
import type { Json } from './otio-json.ts';

/** What a timeline's metadata say of a group. */
export function describeGroup(group: PicturedGroup): { readonly [key: string]: Json } {
  const { name, numerator, denominator, isDropFrame } = group.rate;
  return {
    group_id: group.id,
    day: group.day.date,
    is_day_certain: group.day.isCertain,
    start_timecode: group.start.timecode,
    length_in_frames: group.lengthInFrames,
    rate: { name, numerator, denominator, is_drop_frame: isDropFrame },
    rate_from: group.rateFrom,
    edit: describeEdit(group.edit),
  };
}

/** Without the moment it was found, so that a timeline's bytes stay while its group stays. */
export function describeFinding(finding: PicturedFinding): { readonly [key: string]: Json } {
  const { code, severity, why, remedy, groupId, recorder, clipIds, acknowledged } = finding;
  return { code, severity, why, remedy, group_id: groupId, recorder, clip_ids: clipIds, acknowledged };
}

function describeEdit(edit: PicturedGroup['edit']): Json {
  if (edit.state === 'editable') return { state: edit.state };
  return { state: edit.state, missing: edit.missing.map(({ clipId, why }) => ({ clip_id: clipId, why })) };
}
