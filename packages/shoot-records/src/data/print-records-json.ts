import { compareText } from '../in-order.ts';
import { jsonText } from '../json-text.ts';
import { groupTimelineName } from '../record-names.ts';
import type { PicturedClip, ShootPicture } from '../shoot-picture.ts';
import type { RecordedClip, RecordsJson } from './records-json.ts';

/** The text of `sync-groups.json`: what `RecordsJson` reads, indented by one space. */
export function printRecordsJson(picture: ShootPicture): string {
  const record: RecordsJson = {
    format: 'quayside-sync-groups',
    version: 1,
    madeAt: picture.madeAt,
    shoot: { id: picture.shoot.id, name: picture.shoot.name },
    clips: picture.clips.map(recordClip).toSorted((left, right) => compareText(left.id, right.id)),
    groups: picture.groups.map((group, at) => ({ number: at + 1, timeline: groupTimelineName(group.id), ...group })),
    ungrouped: picture.ungrouped,
    findings: picture.findings.map((finding, at) => ({ number: at + 1, ...finding })),
  };
  return jsonText(record);
}

function recordClip({ facts, ...clip }: PicturedClip): RecordedClip {
  const [sound] = facts.sound;
  return {
    id: clip.id,
    rollId: clip.rollId,
    path: clip.path,
    place: clip.place,
    recorder: clip.recorder,
    role: clip.role,
    sizeInBytes: clip.sizeInBytes,
    modifiedAt: clip.modifiedAt,
    kind: facts.kind,
    startTimecode: facts.startTimecode,
    frameRate: facts.picture?.rate ?? null,
    frameCount: facts.picture?.frameCount ?? null,
    sampleRate: sound?.sampleRate ?? null,
    sampleCount: sound?.sampleCount ?? null,
  };
}
