import type { Copies } from '../step-run.ts';
import type { LaidTrial } from './lay-trial.ts';

/** Where the laid copies are, for the step. */
export function copiesOf({ clipPaths, rollFolders }: LaidTrial): Copies {
  return {
    of: ({ id }) => pathIn(clipPaths, id, 'Clip'),
    folderOf: ({ id }) => pathIn(rollFolders, id, 'Roll'),
  };
}

function pathIn(paths: Readonly<Record<string, string>>, id: string, what: string): string {
  const path = Object.hasOwn(paths, id) ? paths[id] : undefined;
  if (path === undefined) throw new Error(`${what} ${id} is not of this run's subject.`);
  return path;
}
