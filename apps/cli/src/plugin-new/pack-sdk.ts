import { execFile } from 'node:child_process';
import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { QuaysideError, VERSION } from '@quayside/shoot';
import { z } from 'zod';

const run = promisify(execFile);
const ROOT = join(import.meta.dirname, '../../../..');

/** What a plugin's author needs, in the order in which they stand on each other: types, contract with test kit, isolation. */
const PACKED = ['shoot', 'step-sdk', 'guest-host'] as const;

const Exports = z.record(z.string(), z.record(z.string(), z.string()));
const Manifest = z.object({
  name: z.string(),
  description: z.string(),
  license: z.string(),
  type: z.string(),
  exports: Exports,
  dependencies: z.record(z.string(), z.string()).default({}),
});

/**
 * Builds the SDK and packs it, and what it depends on of ours, as npm packages into a folder that is there. Returns the names
 * of the files by package.
 * @throws QuaysideError `PLUGIN_SDK_NOT_PACKED`
 */
export async function packSdk(folder: string): Promise<Readonly<Record<string, string>>> {
  const stage = await mkdtemp(join(tmpdir(), 'quayside-sdk-'));
  try {
    await run(join(ROOT, 'node_modules/.bin/tsc'), ['-b', join(ROOT, 'packages/guest-host')]);
    const packed: [string, string][] = [];
    for (const name of PACKED) packed.push(await packOne(name, join(stage, name), folder));
    return Object.fromEntries(packed);
  } catch (cause) {
    throw new QuaysideError(
      {
        code: 'PLUGIN_SDK_NOT_PACKED',
        sentence: `The SDK could not be built and packed into ${folder}: ${reasonOf(cause)} Run "npm ci" in the folder of Quayside, see that npm can be started, and try again.`,
        retry: 'never',
      },
      { cause },
    );
  } finally {
    await rm(stage, { recursive: true, force: true });
  }
}

async function packOne(name: string, stage: string, folder: string): Promise<[string, string]> {
  const source = join(ROOT, 'packages', name);
  const manifest = Manifest.parse(JSON.parse(await readFile(join(source, 'package.json'), 'utf8')));
  await mkdir(stage);
  for (const part of ['dist', 'README.md']) await cp(join(source, part), join(stage, part), { recursive: true });
  await cp(join(ROOT, 'LICENSE'), join(stage, 'LICENSE'));
  await writeFile(join(stage, 'package.json'), JSON.stringify(packedManifest(manifest), null, 2));
  // The folder is named as well, since npm may be told of another by an npm that this command runs under.
  const { stdout } = await run('npm', ['pack', '--json', '--ignore-scripts', '--pack-destination', folder], {
    cwd: stage,
  });
  const file = /"filename":\s*"([^"]+)"/.exec(stdout)?.[1];
  if (file === undefined) throw new Error('npm did not say what it packed.');
  // Some versions of npm tell the name with a slash where the file has a hyphen.
  return [manifest.name, file.replace(/^@/, '').replace('/', '-')];
}

/** As a registry would have it. Sources are left out, since Node strips no types of what is installed. */
function packedManifest(manifest: z.output<typeof Manifest>): object {
  const exports = Object.entries(manifest.exports).map(([path, { types, default: built }]) => [
    path,
    { types, default: built },
  ]);
  const dependencies = Object.entries(manifest.dependencies).map(([name, version]) => [
    name,
    name.startsWith('@quayside/') ? VERSION : version,
  ]);
  return {
    ...manifest,
    version: VERSION,
    exports: Object.fromEntries(exports),
    dependencies: Object.fromEntries(dependencies),
  };
}

function reasonOf(cause: unknown): string {
  if (!(cause instanceof Error)) return String(cause);
  const told = 'stdout' in cause && typeof cause.stdout === 'string' ? cause.stdout.trim().split('\n', 1)[0] : '';
  return told === '' ? `${cause.message.split('\n', 1)[0]}.` : `${told}.`;
}
