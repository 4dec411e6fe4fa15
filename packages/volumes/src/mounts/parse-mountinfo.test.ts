import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { cannotMount, run, VolumeRig } from '../volume-rig.test-support.ts';
import { parseMountinfo } from './parse-mountinfo.ts';
import { readFileSync } from 'node:fs';

it('the example of the manual page is read as the manual page explains it', () => {
  // Source: proc_pid_mountinfo(5), man-pages 6, the one example line.
  const line = '36 35 98:0 /mnt1 /mnt2 rw,noatime master:1 - ext3 /dev/root rw,errors=continue';
  expect(parseMountinfo(`${line}\n`)).toEqual([
    {
      mountId: '36',
      parentId: '35',
      device: '98:0',
      root: '/mnt1',
      path: '/mnt2',
      fileSystem: 'ext3',
      source: '/dev/root',
      readOnly: false,
      serverAddress: null,
    },
  ]);
});

it('any number of optional fields may stand before the hyphen, also a source that is a hyphen', () => {
  const [none, three] = parseMountinfo(
    '1 0 0:2 / /a ro,nosuid - tmpfs - rw\n2 1 0:3 / /b rw shared:1 master:2 propagate_from:3 - ext4 /dev/sda1 ro\n',
  );
  expect(none).toMatchObject({ path: '/a', source: '-', readOnly: true });
  expect(three).toMatchObject({ path: '/b', fileSystem: 'ext4', source: '/dev/sda1', readOnly: true });
});

it('a network mount tells the address of its server', () => {
  const text = '9 1 0:50 / /n rw - nfs4 nas:/films rw,vers=4.2,clientaddr=10.0.0.9,addr=10.0.0.5\n';
  expect(parseMountinfo(text)[0]).toMatchObject({ source: 'nas:/films', serverAddress: '10.0.0.5' });
});

it('a broken or empty line is left out', () => {
  expect(parseMountinfo('\n1 2 3:4 / /x rw\ngarbage\n')).toEqual([]);
});

/** Source of the escaped set: Linux fs/proc_namespace.c, mangle() with " \t\n\\#". */
function escape(text: string): string {
  return text.replaceAll(/[ \t\n\\#]/g, (char) => `\\${char.charCodeAt(0).toString(8).padStart(3, '0')}`);
}

it('every path survives the kernel’s escaping', () => {
  const path = fc.string({ unit: 'grapheme' }).map((name) => `/${name.replaceAll('\0', '')} \n\t\\#\\040`);
  fc.assert(
    fc.property(path, (name) => {
      const line = `1 0 7:0 ${escape(name)} ${escape(name)} rw - ext4 ${escape(name)} rw`;
      expect(parseMountinfo(line)).toMatchObject([{ path: name, root: name, source: name }]);
    }),
  );
});

it.skipIf(cannotMount)(`findmnt sees the same table, odd names, bind and stacked mounts included${cannotMount}`, () => {
  using rig = new VolumeRig();
  const odd = rig.dir('a b\tc\nd\\e#\\040 Töpferei 陶');
  rig.mount(rig.attach(rig.ext4('WHEEL')), odd);
  run('mkdir', `${odd}/in side`);
  rig.mount(`${odd}/in side`, rig.dir('bound'), '--bind');
  rig.mount('-', rig.dir('stacked'), '-t', 'tmpfs');
  rig.mount(rig.attach(rig.exfat('HANDS')), rig.dir('stacked'), '-t', 'exfat-fuse', '-o', 'ro');
  const ours = parseMountinfo(readFileSync('/proc/self/mountinfo', 'utf8'))
    .filter((mount) => mount.path.startsWith(rig.folder))
    .map(({ path, source, fileSystem, device, mountId, parentId, root, readOnly }) => ({
      path,
      source,
      fileSystem,
      device,
      mountId,
      parentId,
      root,
      readOnly,
    }));
  expect(ours).toHaveLength(4);
  expect(ours).toEqual(findmnt().filter(({ path }) => path.startsWith(rig.folder)));
});

interface FindmntRow {
  readonly target: string;
  readonly source: string;
  readonly fstype: string;
  readonly 'maj:min': string;
  readonly id: number;
  readonly parent: number;
  readonly fsroot: string;
  readonly options: string;
}

/** The second opinion: util-linux' own reading of the same table. */
function findmnt(): readonly (Record<string, unknown> & { readonly path: string })[] {
  const output = run(
    'findmnt',
    '-J',
    '-l',
    '-v',
    '--kernel',
    '-o',
    'TARGET,SOURCE,FSTYPE,MAJ:MIN,ID,PARENT,FSROOT,OPTIONS',
  );
  const { filesystems } = JSON.parse(output) as { filesystems: FindmntRow[] };
  return filesystems.map((row) => ({
    path: row.target,
    source: row.source,
    fileSystem: row.fstype,
    device: row['maj:min'],
    mountId: String(row.id),
    parentId: String(row.parent),
    root: row.fsroot,
    readOnly: row.options.split(',').includes('ro'),
  }));
}
