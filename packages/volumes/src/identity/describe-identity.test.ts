import { expect, it } from 'vitest';
import { describeIdentity } from './describe-identity.ts';
import { identityFrom } from './identity-key.ts';

const wheel = { fileSystem: 'exfat', uuid: '7F1F-EC70', serial: null, label: 'WHEEL', sizeInBytes: 64_023_257_088 };

it('a volume is described by label, format, size and what identifies it', () => {
  expect(describeIdentity(identityFrom(wheel))).toBe('"WHEEL" (exfat, 64 GB, 7F1F-EC70)');
});

it('a weak identity says that it has no UUID, and a line break in a label stays on its line', () => {
  const weak = identityFrom({ ...wheel, uuid: null, label: 'WHE\nEL', sizeInBytes: 1_500_000 });
  expect(describeIdentity(weak)).toBe('"WHE?EL" (exfat, 1.5 MB, no UUID)');
  expect(describeIdentity(identityFrom({ ...wheel, uuid: null, label: null, sizeInBytes: 0 }))).toBe(
    'unlabelled volume (exfat, no UUID)',
  );
});

it('an identity by serial names the drive', () => {
  expect(describeIdentity(identityFrom({ ...wheel, uuid: null, serial: 'X9' }))).toBe(
    '"WHEEL" (exfat, 64 GB, drive X9)',
  );
});

it.each([
  [999, '999 B'],
  [1_000, '1.0 kB'],
  [9_960_000, '10 MB'],
  [999_600_000, '1.0 GB'],
  [64_023_257_088, '64 GB'],
])('%i bytes are told as %s', (sizeInBytes, told) => {
  expect(describeIdentity(identityFrom({ ...wheel, sizeInBytes }))).toBe(`"WHEEL" (exfat, ${told}, 7F1F-EC70)`);
});
