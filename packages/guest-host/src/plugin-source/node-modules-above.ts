import { dirname, join } from 'node:path';

/** The `node_modules` folders in which Node looks from here, the nearest first. They need not exist. */
export function nodeModulesAbove(folder: string): readonly string[] {
  const own = folder.endsWith('/node_modules') ? [] : [join(folder, 'node_modules')];
  const above = dirname(folder);
  return above === folder ? own : [...own, ...nodeModulesAbove(above)];
}

/** The `package.json` of a folder and of those above it, where Node looks for what kind of module a file is. They need not exist. */
export function manifestsAbove(folder: string): readonly string[] {
  const above = dirname(folder);
  return [join(folder, 'package.json'), ...(above === folder ? [] : manifestsAbove(above))];
}
