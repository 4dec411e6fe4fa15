import { type ChainEntry, readChain } from './chain.ts';
import { type Fault, faultOf } from './history.ts';
import { CHAIN_NAME } from './manifest.ts';
import { readStored } from './stored-file.ts';

/** Where the chain is staged before it takes its name. Fixed, so that it can be found again after a crash. */
export const STAGED_CHAIN_NAME = `.${CHAIN_NAME}.part`;

export type LoadedChain =
  | { readonly state: 'read'; readonly entries: readonly ChainEntry[] }
  | { readonly state: 'missing' }
  | { readonly state: 'malformed' };

/** Loads the chain of a history folder, noting what is wrong with it in `faults`. Throws on I/O errors only. */
export async function loadChain(folder: string, faults: Fault[]): Promise<LoadedChain> {
  const stored = await readStored(folder, CHAIN_NAME);
  if (stored.state === 'missing') return loadStagedChain(folder, faults);
  try {
    if (stored.state === 'refused') throw new Error(stored.why);
    const entries = readChain(stored.bytes);
    if (!entries.every(({ number }, index) => number === index + 1)) {
      faults.push(
        faultOf('CHAIN_GAP', null, `The numbers in the chain file of "${folder}" are not 1, 2, 3 and so on. ${REMEDY}`),
      );
    }
    return { state: 'read', entries };
  } catch (error) {
    // The parser's message has an excerpt below its first line.
    const [why = ''] = (error instanceof Error ? error.message : String(error)).split('\n');
    faults.push(faultOf('CHAIN_MALFORMED', null, `The chain file of "${folder}" cannot be used: ${why}. ${REMEDY}`));
    return { state: 'malformed' };
  }
}

/** Some file systems replace a file in two steps; between them only the staged chain is there. */
async function loadStagedChain(folder: string, faults: Fault[]): Promise<LoadedChain> {
  const staged = await readStored(folder, STAGED_CHAIN_NAME);
  if (staged.state !== 'read') return { state: 'missing' };
  try {
    const entries = readChain(staged.bytes);
    const sentence = `The chain file of "${folder}" was not put in place by an interrupted write. The next write does it.`;
    faults.push(faultOf('CHAIN_UNFINISHED', null, sentence));
    return { state: 'read', entries };
  } catch {
    // Torn while it was staged: it never counted.
    return { state: 'missing' };
  }
}

const REMEDY = 'Restore it from another copy of the roll.';
