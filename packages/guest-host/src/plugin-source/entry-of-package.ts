import { realpath } from 'node:fs/promises';
import { join, sep } from 'node:path';

/** The real path of a package's entry as an `import` of it would find it (Node.js, "Package entry points"), or null. */
export async function entryOfPackage(folder: string, packageJson: string): Promise<string | null> {
  const manifest = objectIn(packageJson);
  const exported = manifest['exports'];
  const wanted = exported === undefined ? [manifest['main'] ?? './index.js'] : targetsOf(rootOf(exported), folder);
  for (const target of wanted) {
    const path = typeof target === 'string' ? await realpath(join(folder, target)).catch(() => null) : null;
    if (path !== null && path.startsWith(folder + sep)) return path;
  }
  return null;
}

function objectIn(text: string): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(text);
    return isRecord(value) ? value : {};
  } catch {
    return {};
  }
}

function rootOf(exported: unknown): unknown {
  return isRecord(exported) && '.' in exported ? exported['.'] : exported;
}

function targetsOf(target: unknown, folder: string): readonly string[] {
  if (typeof target === 'string') return [target];
  if (Array.isArray(target)) return target.flatMap((one) => targetsOf(one, folder));
  if (!isRecord(target)) return [];
  // What is installed is built; only a workspace's own packages run from their sources.
  const isInstalled = folder.includes(`${sep}node_modules${sep}`);
  return Object.entries(target)
    .filter(([condition]) => CONDITIONS.has(condition) || (condition === 'source' && RUNS_FROM_SOURCES && !isInstalled))
    .flatMap(([, one]) => targetsOf(one, folder));
}

const CONDITIONS = new Set(['node', 'import', 'module-sync', 'default']);
const RUNS_FROM_SOURCES = import.meta.url.endsWith('.ts');

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
