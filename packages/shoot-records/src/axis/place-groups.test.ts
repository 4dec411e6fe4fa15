import { approximateForDisplay } from '@quayside/timecode';
import { expect, it } from 'vitest';
import { indexClips } from '../clip-index.ts';
import { clipOf, pictureOf, take } from '../pottery-class.test-support.ts';
import type { ShootPicture } from '../shoot-picture.ts';
import { placeGroups } from './place-groups.ts';

/** A day of 23.976 labels: 2073600 frames of 1001/24000 s. */
const DAY = 86_486.4;

function startsOf(picture: ShootPicture): readonly number[] {
  return placeGroups(picture.groups, indexClips(picture)).map(({ start }) => approximateForDisplay(start));
}

it('groups lie as far apart as their timecode says', () => {
  expect(startsOf(pictureOf([...take('10:00:00:00', 60), ...take('11:00:00:00', 60)]))).toEqual([36_036, 39_639.6]);
});

it('a group after midnight follows the one before it', () => {
  const picture = pictureOf([...take('23:59:00:00', 30), ...take('00:10:00:00', 60, { day: 1 })]);
  expect(startsOf(picture)).toEqual([86_426.34, DAY + 600.6]);
});

it('another day at the same timecode is the next time round, not the same moment', () => {
  const picture = pictureOf([...take('00:00:00:00', 600), ...take('00:05:00:00', 600, { day: 1 })]);
  expect(startsOf(picture)).toEqual([0, DAY + 300.3]);
});

it('groups that truly overlap stay where they are', () => {
  const picture = pictureOf(take('10:00:00:00', 600));
  const [group] = picture.groups;
  if (group === undefined) throw new Error('no group');
  const later = {
    count: group.start.count + 24,
    timecode: '10:00:01:00',
    secondsOfDay: { numerator: 36_037_001, denominator: 1000 },
  };
  const overlapping = { ...picture, groups: [group, { ...group, id: 'other', start: later }] };
  expect(startsOf(overlapping)).toEqual([36_036, 36_037.001]);
});

it('a shoot without groups has no places', () => {
  expect(
    startsOf(
      pictureOf([clipOf({ recorder: 'kiln', from: '10:00:00:00', seconds: 5, facts: { startTimecode: null } })]),
    ),
  ).toEqual([]);
});
