import { expect, it } from 'vitest';
import { MADE_AT, pictureOf, take } from './pottery-class.test-support.ts';
import type { PicturedFinding, ShootPicture } from './shoot-picture.ts';
import { viewOf } from './shoot-view.ts';

const CLIPS = [0, 10, 20, 30, 40].flatMap((minute) => take(`10:${String(minute).padStart(2, '0')}:00:00`, 60));
const PICTURE = pictureOf(CLIPS);

function withFinding(about: Partial<PicturedFinding>): ShootPicture {
  const finding: PicturedFinding = {
    code: 'CODEC_UNLIKE',
    severity: 'warning',
    subject: { kind: 'shoot', id: 'pottery-class' },
    why: 'Why.',
    remedy: 'Remedy.',
    at: MADE_AT,
    groupId: null,
    recorder: null,
    clipIds: [],
    acknowledged: null,
    ...about,
  };
  return { ...PICTURE, findings: [finding] };
}

const groupIds = PICTURE.groups.map((group) => group.id);
const kilnClips = CLIPS.filter((clip) => clip.recorder === 'kiln').map((clip) => clip.id);

/** Everything that the finding is listed under. */
function placesOf(picture: ShootPicture): readonly string[] {
  const { findings } = viewOf(picture);
  const recorders = ['wheel', 'hands', 'wide', 'kiln'];
  return [
    ...groupIds.flatMap((id, at) => (findings.ofGroup(id).length > 0 ? [`touches ${at}`] : [])),
    ...groupIds.flatMap((id, at) => (findings.ofWholeGroup(id).length > 0 ? [`whole ${at}`] : [])),
    ...groupIds.flatMap((id, at) =>
      recorders.flatMap((recorder) => (findings.ofCell(id, recorder).length > 0 ? [`${recorder} in ${at}`] : [])),
    ),
    ...recorders.flatMap((recorder) => (findings.ofRecorder(recorder).length > 0 ? [`${recorder} in general`] : [])),
    ...recorders.flatMap((recorder) => (findings.ofUngrouped(recorder).length > 0 ? [`${recorder} ungrouped`] : [])),
  ];
}

it('a finding of a clip stands where the clip is', () => {
  expect(placesOf(withFinding({ recorder: 'kiln', clipIds: kilnClips.slice(1, 2) }))).toEqual([
    'touches 1',
    'kiln in 1',
  ]);
});

it('a recorder that has no clip in a group has its mark there all the same', () => {
  expect(placesOf(withFinding({ groupId: groupIds[2] ?? '', recorder: 'kiln' }))).toEqual(['touches 2', 'kiln in 2']);
});

it('a finding of a group as a whole stands at the group', () => {
  expect(placesOf(withFinding({ groupId: groupIds[2] ?? '' }))).toEqual(['touches 2', 'whole 2']);
});

it('what is said of a group and a clip is not marked in the other groups of that clip', () => {
  const about = { groupId: groupIds[0] ?? '', recorder: 'kiln', clipIds: kilnClips.slice(0, 1) };
  expect(placesOf(withFinding(about))).toEqual(['touches 0', 'kiln in 0']);
});

it('a finding in more than three groups is marked once at the recorder', () => {
  expect(placesOf(withFinding({ recorder: 'kiln', clipIds: kilnClips.slice(0, 3) }))).toContain('kiln in 2');
  expect(placesOf(withFinding({ recorder: 'kiln', clipIds: kilnClips.slice(0, 4) }))).toEqual([
    'touches 0',
    'touches 1',
    'touches 2',
    'touches 3',
    'kiln in general',
  ]);
});

it('a clip in no group has its mark among the ungrouped, and one that is not known at the recorder named', () => {
  expect(placesOf(withFinding({ recorder: 'wide', clipIds: ['gone'] }))).toEqual(['wide ungrouped']);
});

it('a finding of nothing in particular has no place on the map', () => {
  expect(placesOf(withFinding({}))).toEqual([]);
});
