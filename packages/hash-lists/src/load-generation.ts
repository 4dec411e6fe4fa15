import { c4Of } from './c4.ts';
import type { ChainEntry } from './chain.ts';
import { type Fault, type FaultCode, faultOf, type Generation } from './history.ts';
import { recallManifest, rememberManifest } from './known-manifests.ts';
import type { Manifest } from './manifest.ts';
import { readManifest } from './read-manifest.ts';
import { readStored } from './stored-file.ts';

/** Loads a generation that the chain vouches for, noting what is wrong with it in `faults`. Throws on I/O errors only. */
export async function loadChained(folder: string, entry: ChainEntry, faults: Fault[]): Promise<Generation> {
  const loaded = await load(folder, entry.name);
  if (loaded.state === 'read' && loaded.c4 === entry.c4) {
    noteRefused({ folder, ...entry, refused: loaded.refused }, faults);
    return { ...entry, isChained: true, manifest: loaded.manifest };
  }
  const isAltered = 'c4' in loaded && loaded.c4 !== entry.c4;
  const code = isAltered ? 'MANIFEST_ALTERED' : CODE[loaded.state];
  const why = isAltered
    ? `its C4 ID is ${loaded.c4}, but the chain says ${entry.c4}`
    : 'why' in loaded
      ? loaded.why
      : '';
  const sentence = `The manifest "${entry.name}" in "${folder}" cannot be used: ${why}. Restore it from another copy of the roll.`;
  faults.push(faultOf(code, entry.number, sentence));
  return { ...entry, isChained: true, manifest: null };
}

/**
 * Loads a manifest that no chain vouches for; null when it is no generation of this history: damaged, not the next in
 * number, or made by flattening, which is meant to stand alone. Throws on I/O errors only.
 */
export async function loadUnchained(
  folder: string,
  found: { readonly name: string; readonly number: number; readonly isNext: boolean },
  faults: Fault[],
): Promise<Generation | null> {
  const { name, number, isNext } = found;
  const loaded = await load(folder, name);
  if (loaded.state === 'read' && loaded.manifest.process === 'flatten') return null;
  if (loaded.state !== 'read' || !isNext) {
    const why = 'why' in loaded ? loaded.why : `${number} is not the next number`;
    const sentence = `The manifest "${name}" in "${folder}" is not in the chain and is not used: ${why}. Move it out of the folder.`;
    faults.push(faultOf('MANIFEST_UNCHAINED', number, sentence));
    return null;
  }
  const sentence = `The manifest "${name}" in "${folder}" was left outside the chain by an interrupted write. The next write enters it.`;
  faults.push(faultOf('MANIFEST_UNCHAINED', number, sentence));
  noteRefused({ folder, name, number, refused: loaded.refused }, faults);
  return { name, number, c4: loaded.c4, isChained: false, manifest: loaded.manifest };
}

type Loaded =
  | { readonly state: 'read'; readonly c4: string; readonly manifest: Manifest; readonly refused: readonly string[] }
  | { readonly state: 'malformed' | 'unsupported'; readonly c4: string; readonly why: string }
  | { readonly state: 'missing' | 'refused'; readonly why: string };

async function load(folder: string, name: string): Promise<Loaded> {
  const stored = await readStored(folder, name);
  if (stored.state === 'missing') return { state: 'missing', why: 'it is not there' };
  if (stored.state === 'refused') return stored;
  const c4 = c4Of(stored.bytes);
  const known = recallManifest(c4);
  if (known !== null) return { c4, state: 'read', manifest: known, refused: [] };
  const reading = readManifest(stored.bytes);
  if (reading.state === 'read' && reading.refused.length === 0) rememberManifest(c4, reading.manifest);
  return { c4, ...reading };
}

function noteRefused(
  found: {
    readonly folder: string;
    readonly name: string;
    readonly number: number;
    readonly refused: readonly string[];
  },
  faults: Fault[],
): void {
  const [first] = found.refused;
  if (first === undefined) return;
  const sentence = `Of the records in "${found.name}" in "${found.folder}", ${found.refused.length} are not used; the first because ${first}. Files without a usable record count as new.`;
  faults.push(faultOf('RECORD_REFUSED', found.number, sentence));
}

const CODE: Readonly<Record<Loaded['state'], FaultCode>> = {
  read: 'MANIFEST_ALTERED',
  missing: 'MANIFEST_MISSING',
  refused: 'MANIFEST_MALFORMED',
  malformed: 'MANIFEST_MALFORMED',
  unsupported: 'MANIFEST_UNSUPPORTED',
};
