import { statSync } from 'node:fs';
import { expect, it } from 'vitest';
import { run } from '../volume-rig.test-support.ts';
import { deviceNumber } from './device-number.ts';

const onLinux = process.platform === 'linux';

it.skipIf(!onLinux)('stat of coreutils splits the device numbers of real nodes the same way (Linux only)', () => {
  for (const node of ['/dev/null', '/dev/loop-control', '/dev/random']) {
    const [major, minor] = run('stat', '-c', '%Hr:%Lr', node).trim().split(':');
    expect(deviceNumber(statSync(node, { bigint: true }).rdev)).toBe(`${major}:${minor}`);
  }
});

it.skipIf(!onLinux)('large numbers are split as glibc’s makedev packs them (Linux only)', () => {
  // Source: python3 -c "import os; print(os.makedev(259, 300), os.makedev(0xfffff, 0xfffff))", a second user of glibc's makedev.
  expect(deviceNumber(1114924n)).toBe('259:300');
  expect(deviceNumber(4486011736293375n)).toBe('1048575:1048575');
});
