import { basename } from 'node:path';
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { cannotMount, run, VolumeRig } from '../volume-rig.test-support.ts';
import { attachmentOf } from './attachment-of.ts';

it.skipIf(cannotMount)(`a disk that is attached anew has another count, that of sysfs${cannotMount}`, () => {
  using rig = new VolumeRig();
  const image = rig.image();
  const counts = [1, 2].map(() => {
    const device = rig.attach(image);
    const attachment = attachmentOf(run('lsblk', '-n', '-d', '-o', 'MAJ:MIN', device).trim());
    const number = readFileSync(`/sys/block/${basename(device)}/diskseq`, 'utf8').trim();
    expect(attachment).toEqual({ isThere: true, number });
    rig.detach(device);
    return number;
  });
  expect(counts[0]).not.toBe(counts[1]);
});

it.skipIf(cannotMount)(`a drive that the kernel no longer has is not there${cannotMount}`, () => {
  // A loop device cannot be taken from under its mount, so the number of one that does not exist stands for a pulled drive.
  expect(attachmentOf('7:4095')).toEqual({ isThere: false });
});

it('what has no device of its own is taken to be there', () => {
  expect(attachmentOf('0:40')).toEqual({ isThere: true, number: null });
});
