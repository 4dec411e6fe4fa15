import { existsSync, realpathSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { nodeModulesAbove } from '../plugin-source/node-modules-above.ts';

const SDK = '@quayside/step-sdk';
let found: readonly string[] | null = null;

/** This package's code, and that of the SDK: all that the host's own part in a guest's process loads. */
export function ownCode(): readonly string[] {
  found ??= [resolve(import.meta.dirname, '../..'), ...sdk()];
  return found;
}

// Node asks for the right to the link as well as to what it leads to.
function sdk(): readonly string[] {
  const path = nodeModulesAbove(import.meta.dirname)
    .map((folder) => join(folder, SDK))
    .find((one) => existsSync(one));
  return path === undefined ? [] : [path, realpathSync(path)];
}
