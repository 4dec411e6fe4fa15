import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { hashesListed } from './hashes-listed.test-support.ts';
import { Studio } from './studio.test-support.ts';

const run = promisify(execFile);
const ability = await canMountDrives();
const missing = ['xmllint', 'xxhsum'].filter((name) => !hasTool(name));
const why = [...(ability.ok ? [] : [ability.reason]), ...missing.map((name) => `${name} is missing`)].join(', ');

/** An empty file, sizes around a chunk of 8 MiB, and a name that is not ASCII. */
const FILES = {
  'CLIPS/kiln-1.mov': 2 ** 23,
  'CLIPS/kiln-2.mov': 2 ** 23 + 1,
  'CLIPS/brennöfen.mov': 1_000_003,
  'NOTES/empty.txt': '',
  'NOTES/one.txt': 'x',
};

/** Independent tools: xxhsum is the xxHash project's own, the others are GNU coreutils'. */
const TOOLS = {
  xxh128: async (file: string) => firstWord('xxhsum', '-H2', file),
  xxh64: async (file: string) => firstWord('xxhsum', '-H1', file),
  // It names this one before the digest: `XXH3 (file) = digest`.
  xxh3: async (file: string) => /[0-9a-f]{16}$/.exec((await run('xxhsum', ['-H3', file])).stdout.trim())?.[0] ?? '',
  md5: async (file: string) => firstWord('md5sum', file),
  sha1: async (file: string) => firstWord('sha1sum', file),
  c4: async (file: string) => c4Of(await firstWord('sha512sum', file)),
} as const;
type Name = keyof typeof TOOLS;
const EVERY: readonly Name[] = ['xxh128', 'xxh64', 'xxh3', 'md5', 'sha1', 'c4'];

async function firstWord(tool: string, ...args: readonly string[]): Promise<string> {
  // Some mark an escaped name with a backslash.
  return (await run(tool, args)).stdout.trim().split(' ')[0]?.replace('\\', '') ?? '';
}

/** SMPTE ST 2114: `c4` and the SHA-512 as a number to the base 58, 88 digits, of an alphabet without 0, O, I and l. */
function c4Of(sha512: string): string {
  const alphabet = '123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz';
  let digits = '';
  for (let rest = BigInt(`0x${sha512}`); rest > 0n; rest /= 58n) digits = `${alphabet[Number(rest % 58n)]}${digits}`;
  return `c4${digits.padStart(88, '1')}`;
}

function hasTool(name: string): boolean {
  return (process.env['PATH'] ?? '').split(':').some((folder) => existsSync(join(folder, name)));
}

it('the C4 ID of nothing is the published one, also in this test', () => {
  // FIPS 180-4: SHA-512 of no bytes. Its id is the one in the standard's reference implementation.
  const empty =
    'cf83e1357eefb8bdf1542850d66d8007d620e4050b5715dc83f4a921d36ce9ce47d0d13c5d85f2b0ff8318d2877eec2f63b931bd47417a81a538327af927da3e';
  expect(c4Of(empty)).toBe(
    'c459dsjfscH38cYeXXYogktxf4Cd9ibshE3BHUo6a58hBXmRQdZrAkZzsWcbWtDg5oQstpDuni4Hirj75GEmTc1sFT',
  );
});

it.skipIf(why !== '').each([[['c4']], [EVERY]] satisfies [readonly Name[]][])(
  `a whole roll hashed with %j is hashed as independent tools hash it${why === '' ? '' : ` (skipped: ${why})`}`,
  async (hashes) => {
    await using studio = await Studio.open();
    await studio.record({ recorder: 'kiln', files: FILES });
    await studio.addDestination('primary');
    await studio.addDestination('backup');
    await studio.start({ hashes });
    await studio.plug('kiln');
    const roll = (await studio.service.verdicts(1)).get('kiln');
    expect(roll?.clearance.verdict).toBe('clear');
    const wanted = new Set<Name>(hashes);
    for (const destination of ['primary', 'backup']) {
      const folder = join(studio.destination(destination), roll?.shootId ?? '', 'kiln', roll?.id ?? '');
      const [manifest = ''] = (await readdir(join(folder, 'ascmhl'))).filter((name) => name.endsWith('.mhl'));
      const listed = await hashesListed(join(folder, 'ascmhl', manifest), EVERY);
      expect([...listed.keys()].toSorted()).toEqual(Object.keys(FILES).toSorted());
      for (const [path, digests] of listed) {
        for (const name of EVERY) {
          const expected = wanted.has(name) ? await TOOLS[name](join(folder, path)) : '';
          expect(`${name} ${digests[name]}`, `${path} at ${destination}`).toBe(`${name} ${expected}`);
        }
      }
    }
  },
  240_000,
);
