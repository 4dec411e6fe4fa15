import { expect, test } from 'vitest';
import { destinationInsideSource } from './destination-inside-source.ts';

test('a destination on a source volume is refused by name, also when it is the root of the volume', () => {
  const places = [
    { name: 'primary', path: '/srv/footage' },
    { name: 'backup', path: '/media/WHEEL/backup' },
    { name: 'third', path: '/media/WHEEL' },
    { name: 'near', path: '/media/WHEEL 2/footage' },
  ];
  const failures = destinationInsideSource(places, [{ path: '/media/WHEEL' }, { path: '/media/HANDS' }]);
  expect(failures.map(({ code, retry, sentence }) => [code, retry, sentence.split(')')[0]])).toStrictEqual([
    ['DESTINATION_INSIDE_SOURCE', 'never', 'Destination "backup" (/media/WHEEL/backup'],
    ['DESTINATION_INSIDE_SOURCE', 'never', 'Destination "third" (/media/WHEEL'],
  ]);
});

test('a destination is free while no source is mounted, or sources are mounted below it', () => {
  const places = [{ name: 'primary', path: '/srv' }];
  expect(destinationInsideSource(places, [])).toStrictEqual([]);
  expect(destinationInsideSource(places, [{ path: '/srv/drives/WHEEL' }])).toStrictEqual([]);
});
