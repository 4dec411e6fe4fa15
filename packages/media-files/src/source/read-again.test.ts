import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { stagedAt, storedAt, summary } from '../copy/copy-outcomes.test-support.ts';
import { driveWithFickleByte, whyNoFaults } from '../faulty-drive.test-support.ts';
import { readLedger } from '../ledger/read-ledger.ts';
import {
  calmControls,
  copyHere,
  destinationAt,
  hasTool,
  mountImage,
  ROLL,
  temporaryFolder,
  writeTree,
} from '../media-files.test-support.ts';

const run = promisify(execFile);
const MIB = 1024 * 1024;
const why = whyNoFaults ?? (hasTool('filefrag') ? null : 'there is no filefrag');
const skipped = why === null ? '' : ` (skipped: ${why})`;

describe('a source that is read twice', () => {
  it.skipIf(why !== null)(
    `and gives other bytes the second time is told by name, and no copy is made of it${skipped}`,
    async () => {
      await using image = await mountImage('ext4', 32);
      await writeTree(image.path, { 'fickle.mov': 3 * MIB, 'steady.mov': 3 * MIB, 'small.xml': 4000 });
      const { stdout } = await run('filefrag', ['-s', '-v', '-b1024', join(image.path, 'fickle.mov')]);
      const start = Number(/^\s*0:\s+0\.\.\s*\d+:\s+(\d+)\.\./m.exec(stdout)?.[1]) * 1024;
      await image.unmount();
      await using drive = await driveWithFickleByte(image.image, start + MIB + 5);
      await using folder = await temporaryFolder();
      const destinations = [
        await destinationAt(join(folder.path, 'one'), 'one'),
        await destinationAt(join(folder.path, 'two'), 'two'),
      ];
      const outcomes = await copyHere({ source: drive.path, destinations, reads: 'twice' });
      expect(summary(outcomes)).toEqual([
        'fickle.mov one SOURCE_READS_DIFFER',
        'fickle.mov two SOURCE_READS_DIFFER',
        'small.xml one small.xml',
        'small.xml two small.xml',
        'steady.mov one steady.mov',
        'steady.mov two steady.mov',
      ]);
      for (const { root } of destinations) {
        expect(await storedAt(root)).toEqual(['small.xml', 'steady.mov']);
        expect(await stagedAt(root)).toEqual([]);
      }
      // Read once, nobody would ever know.
      expect(summary(await copyHere({ source: drive.path, destinations }))).toContain('fickle.mov one fickle.mov');
    },
  );

  it('and gives the same is copied, each byte is told once, and the record says so; what was read once is read again', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'large.mov': 70 * MIB, 'small.xml': 4000 });
    const destination = await destinationAt(join(folder.path, 'one'));
    const copyTwice = async (): Promise<readonly string[]> =>
      summary(await copyHere({ source, destinations: [destination], reads: 'twice', controls }));
    const controls = calmControls();
    await copyHere({ source, destinations: [destination] });
    expect((await readLedger(destination.root, ROLL.id)).files.get('large.mov')?.reads).toBeUndefined();
    expect(await copyTwice()).toEqual(['large.mov primary large.mov already', 'small.xml primary small.xml already']);
    expect((await readLedger(destination.root, ROLL.id)).files.get('large.mov')?.reads).toBe(2);
    expect(controls.moved).toBe(70 * MIB + 4000);
    // What is known to have been read twice is not read a third time.
    await writeTree(source, {});
    const third = calmControls();
    let told = 0;
    await copyHere({
      source,
      destinations: [destination],
      reads: 'twice',
      controls: { ...third, onBytes: () => (told += 1) },
    });
    expect(told).toBe(2);
  });
});
