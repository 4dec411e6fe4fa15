import { execFile } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { mkdir, readFile, stat, utimes, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
import type { HashAlgorithm } from '@quayside/shoot';
import { expect, it } from 'vitest';
import { digestOf, generationOf, has, newRoll } from './hash-lists.test-support.ts';
import type { NewFile } from './new-generation.ts';
import { writeGeneration } from './write-generation.ts';

const run = promisify(execFile);

// What stands in the manifest, by Python's own xml module, as { path: { size, mtime, digests } }.
const READ_BY_PYTHON = `
import json, sys, xml.etree.ElementTree as tree
from datetime import datetime
m = '{urn:ASC:MHL:v2.0}'
out = {}
for h in tree.parse(sys.argv[1]).getroot().iter(m + 'hash'):
    path = h.find(m + 'path')
    out[path.text] = {
        'size': int(path.get('size')),
        'ms': round(datetime.fromisoformat(path.get('lastmodificationdate').replace('Z', '+00:00')).timestamp() * 1000),
        'digests': {c.tag[len(m):]: c.text for c in h if c.get('action')},
    }
print(json.dumps(out))
`;

const PROGRAMS: readonly (readonly [HashAlgorithm, program: string, ...args: string[]])[] = [
  ['md5', 'md5sum'],
  ['sha1', 'sha1sum'],
  ['xxh64', 'xxhsum', '-H64'],
  ['xxh128', 'xxhsum', '-H128'],
];
const NEEDED = ['md5sum', 'sha1sum', 'xxhsum', 'python3'];
const missing = NEEDED.filter((program) => !has(program));

it.skipIf(missing.length > 0)(
  `the hashes in the XML are those that md5sum, sha1sum and xxhsum give${missing.length > 0 ? ` (skipped: no ${missing.join(', ')})` : ''}`,
  async () => {
    await using roll = await newRoll();
    const paths = ['Clips/A 001.mov', 'Clips/"<&>\'.wav', 'Clips/ été 日本 😀 ', 'empty', 'deep/er/est/x'];
    const files: NewFile[] = [];
    for (const [index, path] of paths.entries()) {
      const full = join(roll.root, path);
      await mkdir(dirname(full), { recursive: true });
      await writeFile(full, randomBytes(path === 'empty' ? 0 : 5000 * index + 1));
      // Eighths of a second, which a floating-point number holds exactly.
      await utimes(full, 1_700_000_000.5 + index, 1_700_000_000.125 + index);
      const { size, mtimeMs } = await stat(full);
      const bytes = await readFile(full);
      const hashes = PROGRAMS.map(async ([algorithm]) => ({
        algorithm,
        value: await digestOf(algorithm, bytes),
        action: 'original' as const,
      }));
      files.push({ path, sizeInBytes: size, modifiedMs: mtimeMs, hashes: await Promise.all(hashes) });
    }
    const { manifestPath } = await writeGeneration(roll.root, generationOf(files));

    const { stdout } = await run('python3', ['-c', READ_BY_PYTHON, manifestPath]);
    const inXml: Record<string, { size: number; ms: number; digests: Record<string, string> }> = JSON.parse(stdout);
    expect(Object.keys(inXml).toSorted()).toEqual(paths.toSorted());
    for (const path of paths) {
      const full = join(roll.root, path);
      for (const [algorithm, program, ...args] of PROGRAMS) {
        const digest = (await run(program, [...args, full])).stdout.replace(/^\\?([0-9a-f]+) .*$/s, '$1');
        expect(`${algorithm} ${inXml[path]?.digests[algorithm]}`).toBe(`${algorithm} ${digest}`);
      }
      expect(inXml[path]?.size).toBe(Number((await run('stat', ['-c', '%s', full])).stdout));
      expect(inXml[path]?.ms).toBe(Number((await run('stat', ['-c', '%.3Y', full])).stdout) * 1000);
    }
  },
);
