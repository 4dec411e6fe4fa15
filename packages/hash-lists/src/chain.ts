import { CHAIN_NAMESPACE } from './manifest.ts';
import { childrenNamed, childText, exactText, localName, readXml, rootNamespace } from './xml-reading.ts';
import { element, xmlBytes } from './xml-writing.ts';

/** One line of the chain file: a generation, its manifest's file name, and the C4 ID of that file's bytes. */
export interface ChainEntry {
  readonly number: number;
  readonly name: string;
  readonly c4: string;
}

/** The bytes of a chain file (ASC MHL specification v1.0, section 7). */
export function buildChain(entries: readonly ChainEntry[]): Uint8Array {
  const lists = entries.map(({ number, name, c4 }) =>
    element('hashlist', [element('path', name), element('c4', c4)], { sequencenr: String(number) }),
  );
  return xmlBytes(element('ascmhldirectory', lists, { xmlns: CHAIN_NAMESPACE }));
}

/**
 * The entries of a chain file, by number. A manifest's name must be a plain file name: nothing outside the folder is read.
 * @throws Error naming the first fault.
 */
export function readChain(bytes: Uint8Array): ChainEntry[] {
  const source = readXml(bytes);
  const { root } = source;
  if (localName(root) !== 'ascmhldirectory' || rootNamespace(root) !== CHAIN_NAMESPACE)
    throw new Error(`its root is "${root.name}", which is no chain of version 2.0`);
  const entries = childrenNamed(root, 'hashlist').map((list) => {
    const [path] = childrenNamed(list, 'path');
    const name = path === undefined ? '' : exactText(path, source);
    const number = list.attributes['sequencenr'] ?? '';
    if (!/^[1-9]\d{0,8}$/.test(number)) throw new Error(`"${number}" is no sequence number`);
    if (!isPlainFileName(name)) throw new Error(`${JSON.stringify(name)} is no name of a manifest beside it`);
    return { number: Number(number), name, c4: childText(list, 'c4') };
  });
  return entries.toSorted((one, other) => one.number - other.number);
}

function isPlainFileName(name: string): boolean {
  return name !== '' && name !== '.' && name !== '..' && !/[/\\\0]/.test(name);
}
