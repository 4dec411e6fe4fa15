import { expect, it } from 'vitest';
import { parseMountinfo } from '../mounts/parse-mountinfo.ts';
import { candidateMounts } from './candidate-mounts.ts';

const table = `
1 0 8:1 / / rw - ext4 /dev/sda1 rw
2 1 8:17 / /media/desk/WHEEL rw - exfat /dev/sdb1 rw
3 1 0:40 / /media/desk rw - tmpfs none rw
4 1 7:9 / /media/app rw - squashfs /dev/loop9 ro
5 1 8:33 / /media/one/two/three rw - ext4 /dev/sdc1 rw
6 1 8:49 / /media/one/two/three/four rw - ext4 /dev/sdd1 rw
7 1 8:1 /srv/films /media/films rw - ext4 /dev/sda1 rw
8 1 8:17 /clips /media/clips rw - exfat /dev/sdb1 rw
9 1 8:65 / /media2 rw - ext4 /dev/sde1 rw
10 1 0:50 / /media/nas rw - nfs4 nas:/films rw
`;

const pathsFor = (roots: readonly string[], text = table): readonly string[] =>
  candidateMounts(parseMountinfo(text), roots).map(({ path }) => path);

it('mounts below a root are volumes, but not memory, software images, the system’s own disk, or what lies too deep', () => {
  expect(pathsFor(['/media'])).toEqual(['/media/desk/WHEEL', '/media/one/two/three', '/media/nas']);
});

it('a root can itself be the mount, and a longer name is not below it', () => {
  expect(pathsFor(['/media2'])).toEqual(['/media2']);
  expect(pathsFor(['/media/desk/WHEE'])).toEqual([]);
});

it('of several mounts of one file system the whole one is taken, whichever came first', () => {
  const bindFirst = table.split('\n').toReversed().join('\n');
  expect(pathsFor(['/media'], bindFirst)).toContain('/media/desk/WHEEL');
  expect(pathsFor(['/media'], bindFirst)).not.toContain('/media/clips');
  expect(pathsFor(['/media/clips'])).toEqual(['/media/clips']);
});
