import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { destinationAt, ROLL, temporaryFolder, writeTree } from '../media-files.test-support.ts';
import { traceCopy, whyNoTrace } from './trace-copy.test-support.ts';

const skipped = whyNoTrace === null ? '' : ` (skipped: ${whyNoTrace})`;
const MIB = 1024 * 1024;

/** Where in the trace each step of one copy's way to its name stands; -1 for a step that was left out. */
function stepsOf(lines: readonly string[], stored: string): { readonly staged: string; readonly steps: number[] } {
  const named = lines.findIndex((line) => line.startsWith('link(') && line.includes(`"${stored}"`));
  const staged = /^link\("([^"]+)"/.exec(lines[named] ?? '')?.[1] ?? 'none';
  const written = lines.findLastIndex((line) => /^p?write(?:64)?\(/.test(line) && line.includes(`<${staged}>`));
  const synced = lines.findIndex(
    (line, index) =>
      index > written && (line.startsWith('syncfs(') || (line.startsWith('fsync(') && line.includes(`<${staged}>`))),
  );
  const folderSynced = lines.findLastIndex(
    (line) => line.startsWith('fsync(') && line.includes(`<${join(stored, '..')}>`),
  );
  const recorded = lines.findIndex((line) => /^p?write(?:64)?\(/.test(line) && line.includes('.quayside/ledger/'));
  const recordSynced = lines.findLastIndex((line) => line.startsWith('fsync(') && line.includes('.quayside/ledger/'));
  return { staged, steps: [written, synced, named, folderSynced, recorded, recordSynced] };
}

// Promises 3 and 4, seen from outside by strace: what a crash at any point could leave.
describe('a copy is staged, then synced, then named, then its folder is synced, then it is recorded', () => {
  it.skipIf(whyNoTrace !== null).each([
    ['large and small, synced one by one', { 'DCIM/a.mov': 5 * MIB + 3, 'DCIM/b.xml': 100, 'c.xml': 200 }, 'fsync('],
    [
      'many small, synced all at once',
      Object.fromEntries(Array.from({ length: 12 }, (_, index) => [`${index % 3}/${index}`, 9000])),
      'syncfs(',
    ],
  ])(`%s${skipped}`, async (_, tree, sync) => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, tree);
    const destination = await destinationAt(join(folder.path, 'one'));
    const lines = await traceCopy(folder.path, { source, destinations: [destination] });
    for (const name of Object.keys(tree)) {
      const { staged, steps } = stepsOf(lines, join(destination.root, ROLL.folder, name));
      expect(staged).toContain('.quayside/staging/');
      expect(Math.min(...steps)).toBeGreaterThanOrEqual(0);
      expect(steps).toEqual(steps.toSorted((one, other) => one - other));
      expect(lines[steps[1] ?? -1]).toMatch(new RegExp(`^${sync.replace('(', String.raw`\(`)}.* = 0$`));
    }
    // Nothing is ever created or renamed under a final name.
    const stored = join(destination.root, ROLL.folder);
    expect(lines.filter((line) => line.includes(`${stored}/`) && /^(?:openat.*O_CREAT|rename)/.test(line))).toEqual([]);
  });
});
