// The linter opens tests outside their tsconfig and would not know Node there.
/// <reference types="node" />
import { linkSync, statSync, truncateSync, utimesSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { cannotMount, codesOf, RollOnMedia, run } from './roll-on-media.test-support.ts';

const ACCEPT = { sameDevice: 'accept' } as const;

it('a proven copy that was written to before it was sealed is no proof, though it was sealed after', async () => {
  await using media = new RollOnMedia();
  media.write('drive/CLIPS/a.mov', 'first take');
  await media.copy('drive', ['primary', 'backup']);
  await media.readBack();
  const { mtime } = statSync(media.stored('backup', 'CLIPS/a.mov'));
  // Of the same size, and its time set back: what an editing program leaves that means well.
  writeFileSync(media.stored('backup', 'CLIPS/a.mov'), 'first tako');
  utimesSync(media.stored('backup', 'CLIPS/a.mov'), mtime, mtime);
  await media.seal();
  expect(codesOf(await media.judge(ACCEPT))).toEqual(['COPY_GONE', 'TOO_FEW_COPIES']);
  // It is read when it is asked for again, and then it is bad.
  await media.readBack();
  await media.copy('drive', ['primary', 'backup']);
  await media.readBack();
  await media.seal();
  expect(codesOf(await media.judge(ACCEPT))).toEqual([]);
});

it.skipIf(cannotMount)(`two destinations whose roll folder is one and the same count once${cannotMount}`, async () => {
  await using media = new RollOnMedia();
  media.write('drive/a.mov', 'take');
  media.mountImage('primary');
  media.mountImage('backup');
  await media.prove('drive', ['primary', 'backup']);
  expect(codesOf(await media.judge())).toEqual([]);
  const shoot = media.roll().shootId;
  media.mount(media.at('primary', shoot), `backup/${shoot}`, '--bind');
  expect(codesOf(await media.judge())).toEqual(['ONE_DEVICE']);
});

it.skipIf(cannotMount)(
  `a destination in an image file that lies at another destination counts once with it${cannotMount}`,
  async () => {
    await using media = new RollOnMedia();
    media.write('drive/a.mov', 'take');
    media.mountImage('primary', undefined, 96);
    writeFileSync(media.at('primary/image'), Buffer.alloc(32 * 2 ** 20));
    const device = media.attach(media.at('primary/image'));
    run('mkfs.ext4', '-q', '-F', device);
    media.mount(device, 'backup');
    await media.prove('drive', ['primary', 'backup']);
    expect(codesOf(await media.judge())).toEqual(['ONE_DEVICE']);
  },
);

it.skipIf(cannotMount)(`a destination on another partition of the drive itself is no copy${cannotMount}`, async () => {
  await using media = new RollOnMedia();
  const [drive = '', spare = ''] = media.partitionedDisk();
  run('mkfs.ext4', '-q', '-F', drive);
  run('mkfs.ext4', '-q', '-F', spare);
  media.mount(drive, 'drive');
  media.mount(spare, 'backup');
  media.mountImage('primary');
  media.write('drive/a.mov', 'take');
  await media.prove('drive', ['primary', 'backup']);
  expect(codesOf(await media.judge())).toEqual(['DESTINATION_ON_DRIVE', 'TOO_FEW_COPIES']);
});

it.skipIf(cannotMount)(`a folder of the drive that another mount covers holds the roll${cannotMount}`, async () => {
  await using media = new RollOnMedia();
  media.mountImage('drive');
  media.write('drive/a.mov', 'take');
  media.write('drive/inner/b.mov', 'covered take');
  media.mountImage('primary');
  media.mountImage('backup');
  media.mountImage('drive/inner');
  await media.prove('drive', ['primary', 'backup']);
  expect(codesOf(await media.judge())).toContain('FILE_UNREADABLE');
});

it.skipIf(cannotMount)(`a drive of which only one folder is mounted holds the roll${cannotMount}`, async () => {
  await using media = new RollOnMedia();
  const device = media.mountImage('whole');
  media.write('whole/clips/a.mov', 'take');
  media.write('whole/b.mov', 'another take');
  media.mountImage('primary');
  media.mountImage('backup');
  media.mount(media.at('whole/clips'), 'drive', '--bind');
  media.unmount('whole');
  expect(device).toMatch(/loop/);
  await media.prove('drive', ['primary', 'backup']);
  expect(codesOf(await media.judge())).toEqual(['VOLUME_UNREADABLE']);
});

it.skipIf(cannotMount)(
  `a clear drive with another partition comes with a caution about that${cannotMount}`,
  async () => {
    await using media = new RollOnMedia();
    const [drive = '', spare = ''] = media.partitionedDisk();
    run('mkfs.ext4', '-q', '-F', drive);
    run('mkfs.ext4', '-q', '-F', spare);
    media.mount(drive, 'drive');
    media.mount(spare, 'spare');
    media.mountImage('primary');
    media.mountImage('backup');
    media.write('drive/a.mov', 'take');
    await media.prove('drive', ['primary', 'backup']);
    const clearance = await media.judge();
    expect(clearance).toMatchObject({ verdict: 'clear', cautions: [expect.stringContaining(media.at('spare'))] });
  },
);

it('odd files are proven like any other: empty, sparse, linked twice, from other times, or named like what others ignore', async () => {
  await using media = new RollOnMedia();
  for (const name of [
    'empty',
    'old',
    'ahead',
    'linked',
    '.DS_Store',
    'ascmhl/0001_x.mhl',
    'ASCMHL/y',
    'A.MOV',
    'a.mov',
  ])
    media.write(`drive/${name}`, name === 'empty' ? '' : name);
  media.write('drive/sparse', '');
  truncateSync(media.at('drive/sparse'), 3_000_001);
  linkSync(media.at('drive/linked'), media.at('drive/linked as well'));
  utimesSync(media.at('drive/old'), 0, 0);
  utimesSync(media.at('drive/ahead'), 4_000_000_000, 4_000_000_000);
  await media.prove('drive', ['primary', 'backup']);
  expect(codesOf(await media.judge(ACCEPT))).toEqual([]);
  // A clip that comes after the proof is not covered by it, and one that is replaced is another one.
  media.write('drive/b.mov', 'next take');
  media.write('drive/a.mov', 'other');
  expect(codesOf(await media.judge(ACCEPT))).toEqual([
    'FILE_CHANGED',
    'FILE_CHANGED',
    'TOO_FEW_COPIES',
    'FILE_NOT_PROVEN',
    'FILE_NOT_PROVEN',
  ]);
});
