import { expect, it } from 'vitest';
import { identityFrom, type VolumeFacts } from './identity-key.ts';

const facts: VolumeFacts = {
  fileSystem: 'exfat',
  uuid: '7F1F-EC70',
  serial: 'READER1',
  label: 'WHEEL',
  sizeInBytes: 64e9,
};
const keyOf = (change: Partial<VolumeFacts>): string => identityFrom({ ...facts, ...change }).key;
const basisOf = (change: Partial<VolumeFacts>): string => identityFrom({ ...facts, uuid: null, ...change }).basis;

it('the key depends on format, UUID, label and size', () => {
  const keys = [
    {},
    { fileSystem: 'vfat' },
    { uuid: '7F1F-EC71' },
    { label: 'HANDS' },
    { label: null },
    { sizeInBytes: 32e9 },
  ].map(keyOf);
  expect(new Set(keys).size).toBe(keys.length);
});

it('a card with a UUID stays itself in another reader, however the UUID is written', () => {
  expect(keyOf({ serial: 'READER2' })).toBe(keyOf({}));
  expect(keyOf({ serial: null, uuid: '7f1f-ec70' })).toBe(keyOf({}));
});

it('without a UUID the drive’s serial and the label count, and without these it is weak', () => {
  expect(basisOf({})).toBe('serial');
  expect(basisOf({ label: null })).toBe('label');
  expect(basisOf({ serial: null })).toBe('label');
  expect(keyOf({ uuid: null, serial: 'A' })).not.toBe(keyOf({ uuid: null, serial: 'B' }));
});

it.each(['00000000-0000-0000-0000-000000000000', '0000-0000', 'FFFF-FFFF'])('%s is no UUID', (uuid) => {
  expect(identityFrom({ ...facts, uuid, serial: null })).toMatchObject({ basis: 'label', uuid: null });
});
