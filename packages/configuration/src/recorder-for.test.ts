import { expect, test } from 'vitest';
import { parseConfiguration } from './parse-configuration.ts';
import { recorderFor } from './recorder-for.ts';

const configuration = parseConfiguration(
  `recorders:
  wheel: { role: camera, match: [{ label: WHEEL* }] }
  kiln: { role: camera, match: [{ label: '/^KILN[ _-]?\\d*$/' }] }
  desk: { role: sound, match: [{ label: DESK }, { uuid: 1A2B-3C4D }] }
  wide: { role: program }
destinations: [{ name: a, path: /a }, { name: b, path: /b }]
`,
  { file: 'quayside.yaml', env: { HOME: '/home/pat' }, platform: 'linux' },
);

test.each([
  [
    { uuid: null, label: 'wheel_07' },
    { name: 'wheel', role: 'camera' },
  ],
  [
    { uuid: '6f2c', label: 'Kiln 3' },
    { name: 'kiln', role: 'camera' },
  ],
  [
    { uuid: '1a2b-3c4d', label: null },
    { name: 'desk', role: 'sound' },
  ],
  [
    { uuid: '1a2b-3c4d', label: 'WHEEL' },
    { name: 'desk', role: 'sound' },
  ],
  [{ uuid: '9999-0000', label: 'Untitled' }, null],
  [{ uuid: null, label: null }, null],
  [{ uuid: '', label: '' }, null],
] as const)('the drive %o belongs to %o', (identity, recorder) => {
  expect(recorderFor(configuration, identity)).toStrictEqual(recorder);
});
