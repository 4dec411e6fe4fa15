import { lstat, mkdir, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  copyHere,
  destinationAt,
  readBackHere,
  ROLL,
  temporaryFolder,
  writeTree,
} from '../media-files.test-support.ts';

import { stagedAt, summary } from './copy-outcomes.test-support.ts';

describe('a name that is taken', () => {
  it.each([
    ['of another size', 'other content'],
    ['of the same size', 'tooth'],
  ])('by other content %s is never overwritten: both are kept', async (_, other) => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'DCIM/a.mov': 'vases', 'b.mov': 'fine' });
    const one = join(folder.path, 'one');
    await writeTree(join(one, ROLL.folder), { 'DCIM/a.mov': other });
    const outcomes = await copyHere({ source, destinations: [await destinationAt(one)] });
    expect(summary(outcomes)).toEqual(['DCIM/a.mov primary DCIM/a__2.mov', 'b.mov primary b.mov']);
    expect(await readFile(join(one, ROLL.folder, 'DCIM/a.mov'), 'utf8')).toBe(other);
    expect(await readFile(join(one, ROLL.folder, 'DCIM/a__2.mov'), 'utf8')).toBe('vases');
    expect(await stagedAt(one)).toEqual([]);
  });

  it('by a folder, a link, or a file where a folder must be: all are kept', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 'a', 'b.mov': 'b', 'c/d.mov': 'd' });
    const one = join(folder.path, 'one');
    await writeTree(join(one, ROLL.folder), { 'a.mov/inside': 'x', c: 'a file' });
    await symlink('/nowhere', join(one, ROLL.folder, 'b.mov'));
    const outcomes = await copyHere({ source, destinations: [await destinationAt(one)] });
    expect(summary(outcomes)).toEqual([
      'a.mov primary a__2.mov',
      'b.mov primary b__2.mov',
      'c/d.mov primary c__2/d.mov',
    ]);
    expect(await readFile(join(one, ROLL.folder, 'c'), 'utf8')).toBe('a file');
    expect((await lstat(join(one, ROLL.folder, 'b.mov'))).isSymbolicLink()).toBe(true);
  });

  it('by an earlier state of the same file: the new one is kept beside it, and is what counts', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 'first' });
    const destination = await destinationAt(join(folder.path, 'one'));
    await copyHere({ source, destinations: [destination] });
    await writeFile(join(source, 'a.mov'), 'second');
    expect(summary(await copyHere({ source, destinations: [destination] }))).toEqual(['a.mov primary a__2.mov']);
    const [read] = await readBackHere(destination, ['a.mov']);
    expect(read).toMatchObject({ state: 'verified', storedPath: 'a__2.mov' });
  });

  it('a name of 255 bytes that is taken still fits', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    const name = `${'é'.repeat(125)}x.mov`;
    await writeTree(source, { [name]: 'vases' });
    const one = join(folder.path, 'one');
    await writeTree(join(one, ROLL.folder), { [name]: 'other' });
    const [outcome] = await copyHere({ source, destinations: [await destinationAt(one)] });
    expect(outcome).toMatchObject({ state: 'written', storedPath: expect.stringMatching(/__2\.mov$/) });
  });

  it('a folder that is a link is not followed out of the destination', async () => {
    await using folder = await temporaryFolder();
    await using outside = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'c/d.mov': 'd' });
    const one = join(folder.path, 'one');
    await mkdir(join(one, ROLL.folder), { recursive: true });
    await symlink(outside.path, join(one, ROLL.folder, 'c'));
    expect(summary(await copyHere({ source, destinations: [await destinationAt(one)] }))).toEqual([
      'c/d.mov primary c__2/d.mov',
    ]);
    await rm(join(one, 'pottery'), { recursive: true });
    await symlink(outside.path, join(one, 'pottery'));
    await rm(join(one, '.quayside'), { recursive: true });
    expect(summary(await copyHere({ source, destinations: [await destinationAt(one)] }))).toEqual([
      'c/d.mov primary NAME_TAKEN',
    ]);
    expect(await readdir(outside.path)).toEqual([]);
  });
});
