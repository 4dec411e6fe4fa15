import { expect, it } from 'vitest';
import { decodeUdev } from './decode-udev.ts';
import { parseLsblk } from './ask-udev.ts';
import { parseBlkid } from './probe-blkid.ts';

it('the encoded fields of blkid are read, because the plain ones replace spaces', () => {
  // Recorded from `blkid -p -o udev` of util-linux 2.38.1 on an ext4 with the label A b"\x.
  const output = 'ID_FS_LABEL=A_b"\\x\nID_FS_LABEL_ENC=A\\x20b\\x22\\x5cx\nID_FS_UUID_ENC=ff26-01\nID_FS_TYPE=ext4\n';
  expect(parseBlkid(output)).toEqual({ format: 'ext4', uuid: 'ff26-01', label: 'A b"\\x' });
});

it('output that names no file system is no answer', () => {
  expect(parseBlkid('')).toBeNull();
  expect(parseBlkid('ID_FS_AMBIVALENT=filesystem:ext4:1.0 filesystem:exfat:1.0\n')).toBeNull();
});

it('udev’s encoding works on bytes, so a letter of two bytes comes back whole', () => {
  expect(decodeUdev('K\\xc3\\xafln\\x20ö 陶')).toBe('Kïln ö 陶');
});

it('lsblk’s empty fields are null, and other text is nothing', () => {
  const output = '{"blockdevices":[{"fstype":"exfat","uuid":null,"label":"","serial":"X9"}]}';
  expect(parseLsblk(output)).toEqual({ format: 'exfat', uuid: null, label: null, serial: 'X9' });
  expect(parseLsblk('lsblk: not a block device')).toEqual({ format: null, uuid: null, label: null, serial: null });
});
