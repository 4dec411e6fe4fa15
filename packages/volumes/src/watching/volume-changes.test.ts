import { expect, it } from 'vitest';
import { identityFrom } from '../identity/identity-key.ts';
import { markTwins, type SightedVolume } from './sighted-volume.ts';
import { volumeChanges } from './volume-changes.ts';

function sight(label: string, path: string, change: Partial<SightedVolume> = {}): SightedVolume {
  const identity = identityFrom({ fileSystem: 'exfat', uuid: '7F1F-EC70', serial: null, label, sizeInBytes: 1 });
  const mount = { path, mountId: path, device: '7:0' };
  return { identity, mount, readOnly: false, hasTwin: false, attachment: '1', ...change };
}

function told(before: readonly SightedVolume[], after: readonly SightedVolume[]): readonly string[] {
  return volumeChanges(before, after).map(
    ({ kind, volume }) => `${kind} ${volume.identity.label} ${volume.mount.path}`,
  );
}

const wheel = sight('WHEEL', '/m/a');
const hands = sight('HANDS', '/m/b');

it('nothing is told when nothing changed', () => expect(told([wheel, hands], [hands, wheel])).toEqual([]));

it('departures are told before arrivals', () =>
  expect(told([wheel], [hands])).toEqual(['left WHEEL /m/a', 'appeared HANDS /m/b']));

it('a volume that is mounted elsewhere has moved, it has not left', () => {
  expect(told([wheel], [sight('WHEEL', '/m/c')])).toEqual(['changed-mount WHEEL /m/c']);
});

it.each([{ attachment: '2' }, { readOnly: true }, { hasTwin: true }])(
  'a volume under the same mount but with %o is told',
  (change) => {
    expect(told([wheel], [sight('WHEEL', '/m/a', change)])).toEqual(['changed-mount WHEEL /m/a']);
  },
);

it('of twins none is said to have moved, and the one that stays learns of its twin', () => {
  const twins = markTwins([wheel, sight('WHEEL', '/m/c'), sight('WHEEL', '/m/d')]);
  expect(told([wheel], twins)).toEqual(['changed-mount WHEEL /m/a', 'appeared WHEEL /m/c', 'appeared WHEEL /m/d']);
  expect(told(twins, markTwins([wheel, sight('WHEEL', '/m/e'), sight('WHEEL', '/m/f')]))).toEqual([
    'left WHEEL /m/c',
    'left WHEEL /m/d',
    'appeared WHEEL /m/e',
    'appeared WHEEL /m/f',
  ]);
});
