import { join } from 'node:path';
import { type Fault, faultOf, type Generation, type History } from './history.ts';
import { growIgnore } from './ignore-patterns.ts';
import { loadChain } from './load-chain.ts';
import { loadChained, loadUnchained } from './load-generation.ts';
import { HISTORY_FOLDER } from './manifest.ts';
import { mergeGenerations } from './merge-generations.ts';
import { ioFailure } from './refusals.ts';
import { manifestsIn } from './stored-file.ts';

/**
 * Reads the history of a folder: the chain, every manifest, and each manifest's C4 ID against the chain. Damage comes
 * back as `faults`, never as an error; what is altered or malformed is not used. A manifest that an interrupted write
 * left outside the chain counts when it is whole and the next in number, with a fault that says so.
 * @throws QuaysideError `MANIFEST_READ` when the file system fails.
 */
export async function readHistory(rollRoot: string): Promise<History> {
  const folder = join(rollRoot, HISTORY_FOLDER);
  try {
    return await load(folder);
  } catch (error) {
    throw ioFailure('MANIFEST_READ', folder, error);
  }
}

async function load(folder: string): Promise<History> {
  const faults: Fault[] = [];
  const present = await manifestsIn(folder);
  const chain = await loadChain(folder, faults);
  const generations: Generation[] = [];
  if (chain.state === 'read') {
    for (const entry of chain.entries) generations.push(await loadChained(folder, entry, faults));
  }

  const chained = new Set(generations.map(({ name }) => name));
  const others = present.filter(({ name }) => !chained.has(name));
  // One manifest and no chain is what an interrupted first write leaves. With more of them, a chain was lost.
  const hasLostChain = chain.state === 'missing' && others.length > 1;
  if (hasLostChain) faults.push(lostChain(folder));
  const isSaidAlready = hasLostChain || chain.state === 'malformed';
  for (const found of others) {
    const isNext = found.number === (generations.at(-1)?.number ?? 0) + 1;
    const generation = await loadUnchained(folder, { ...found, isNext }, isSaidAlready ? [] : faults);
    if (generation !== null) generations.push(generation);
  }

  const ignore = growIgnore(...generations.map(({ manifest }) => manifest?.ignore ?? []));
  return { generations, files: mergeGenerations(generations), ignore, faults };
}

function lostChain(folder: string): Fault {
  const sentence = `The chain file of "${folder}" is missing, so nothing vouches for its manifests. Restore it from another copy of the roll.`;
  return faultOf('CHAIN_MISSING', null, sentence);
}
