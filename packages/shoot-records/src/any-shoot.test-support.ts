import type { Clip } from '@quayside/shoot';
import { printLabel, type Rate, RATES } from '@quayside/timecode';
import fc from 'fast-check';
import { anyName } from './hostile-names.test-support.ts';
import { CAMERAS, clipOf, pictureOf } from './pottery-class.test-support.ts';
import type { ShootPicture } from './shoot-picture.ts';

const takes = fc.record({
  minute: fc.integer({ min: 0, max: 1430 }),
  seconds: fc.integer({ min: 2, max: 400 }),
  recorders: fc.subarray([...CAMERAS, 'desk', 'mix'], { minLength: 1 }),
  lags: fc.array(fc.nat(40), { minLength: 6, maxLength: 6 }),
  names: fc.array(anyName, { minLength: 6, maxLength: 6 }),
  isHere: fc.boolean(),
  hasTimecode: fc.integer({ min: 0, max: 9 }).map((roll) => roll > 0),
});

const rates = fc.constantFrom(...Object.values(RATES));

/** Shoots of up to six takes at one or two rates, with names of any kind; sound may run through several takes. */
export const anyShoot: fc.Arbitrary<ShootPicture> = fc
  .record({
    takes: fc.array(takes, { minLength: 1, maxLength: 6 }),
    rate: rates,
    guest: rates,
    long: fc.boolean(),
    name: anyName,
  })
  .map((shoot) => {
    const clips = shoot.takes.flatMap((take, number) => clipsOf(take, number, shoot));
    const away = new Set(shoot.takes.flatMap((take, number) => (take.isHere ? [] : [`take-${number}/`])));
    return pictureOf(clips, {
      // As long as the vocabulary lets a shoot's name be.
      name: shoot.name.slice(0, 200),
      isHere: (clip) => ![...away].some((folder) => clip.path.startsWith(folder)),
      edit: (_group, at) =>
        at % 2 === 0 ? { state: 'editable' } : { state: 'waiting', missing: [{ clipId: null, why: shoot.name }] },
    });
  });

type Take = typeof takes extends fc.Arbitrary<infer Value> ? Value : never;

function clipsOf(
  take: Take,
  number: number,
  { rate, guest, long }: { readonly rate: Rate; readonly guest: Rate; readonly long: boolean },
): readonly Clip[] {
  return take.recorders.map((recorder, at) => {
    const own = recorder === 'kiln' ? guest : rate;
    return clipOf({
      recorder,
      rate: own,
      from: printLabel(take.minute * 60 * own.base, own),
      lag: take.lags[at] ?? 0,
      seconds: recorder === 'desk' && long ? take.seconds + 3000 : take.seconds,
      name: `take-${number}/${recorder}-${take.names[at] ?? ''}`,
      ...(take.hasTimecode ? {} : { facts: { startTimecode: null, wave: null } }),
    });
  });
}
