import { join } from 'node:path';
import type { Copies } from '../step-run.ts';
import type { LaidCopy } from './lay-copies.ts';

/** Where the laid copies are, for the step. */
export function copiesOf(laid: readonly LaidCopy[], folder: string): Copies {
  return {
    of: ({ id }) => {
      const copy = laid.find(({ clip }) => clip.id === id);
      if (copy === undefined) throw new Error(`Clip ${id} is not of this run's subject.`);
      return copy.path;
    },
    folderOf: ({ id }) => {
      if (laid.every(({ clip }) => clip.rollId !== id)) throw new Error(`Roll ${id} is not of this run's subject.`);
      return join(folder, id);
    },
  };
}
