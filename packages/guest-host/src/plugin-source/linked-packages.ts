import { readFile, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { nodeModulesAbove } from './node-modules-above.ts';

/**
 * The real folders of packages that a package depends on and that are links, as a workspace's are: they lie outside
 * `node_modules`, where Node follows them to. What these depend on is followed in turn.
 */
export async function linkedPackages(folder: string, packageJson: string): Promise<readonly string[]> {
  const found = new Set<string>();
  const toLookAt = [{ folder, packageJson }];
  for (let one = toLookAt.pop(); one !== undefined; one = toLookAt.pop()) {
    for (const name of dependenciesIn(one.packageJson)) {
      const real = await linkedTo(one.folder, name);
      if (real === null || found.has(real)) continue;
      found.add(real);
      const text = await readFile(join(real, 'package.json'), 'utf8').catch(() => '{}');
      toLookAt.push({ folder: real, packageJson: text });
    }
  }
  return [...found];
}

async function linkedTo(folder: string, name: string): Promise<string | null> {
  for (const modules of nodeModulesAbove(folder)) {
    const path = join(modules, name);
    const real = await realpath(path).catch(() => null);
    if (real === null) continue;
    return real.includes('/node_modules/') ? null : real;
  }
  return null;
}

function dependenciesIn(packageJson: string): readonly string[] {
  try {
    const { dependencies, peerDependencies, optionalDependencies } = JSON.parse(packageJson);
    return Object.keys({ ...dependencies, ...peerDependencies, ...optionalDependencies });
  } catch {
    return [];
  }
}
