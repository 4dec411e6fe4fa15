import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** What the manifests in a folder's `ascmhl` say, all generations together, the later over the earlier. */
export interface Listed {
  /** Of each file its size and its xxh128 digest; null when its last record says `failed`. */
  readonly files: ReadonlyMap<string, { readonly sizeInBytes: number; readonly xxh128: string } | null>;
  /** What is wrong with the history itself: torn, not in the chain, altered. */
  readonly faults: readonly string[];
}

/**
 * Reads the manifests with nothing of the project's own code, after the published form: ASC MHL v2.0, and C4 IDs after
 * SMPTE ST 2114:2017. Simple on purpose: it knows only what a manifest of ours should hold, and all else is a fault.
 */
export async function readManifests(rollFolder: string): Promise<Listed> {
  const folder = join(rollFolder, 'ascmhl');
  const names = await readdir(folder).catch(() => []);
  const manifests = names.filter((name) => name.endsWith('.mhl')).toSorted();
  const faults: string[] = [];
  const files = new Map<string, { sizeInBytes: number; xxh128: string } | null>();
  const chain = await readFile(join(folder, 'ascmhl_chain.xml'), 'utf8').catch(() => '');
  if (manifests.length > 0 && !chain.trimEnd().endsWith('</ascmhldirectory>')) faults.push('the chain is not whole');
  for (const name of manifests) {
    const bytes = await readFile(join(folder, name));
    const text = bytes.toString('utf8');
    if (!text.trimEnd().endsWith('</hashlist>')) faults.push(`${name} is not whole`);
    const inChain = c4InChain(chain, name);
    // A crash may leave a manifest that is whole but not yet in the chain; it then counts for nothing.
    if (inChain === null) continue;
    if (inChain !== c4Of(bytes)) faults.push(`${name} is not what the chain says`);
    takeHashes(text, files);
  }
  for (const name of namesIn(chain))
    if (!manifests.includes(name)) faults.push(`${name} is in the chain but not there`);
  return { files, faults };
}

function takeHashes(text: string, files: Map<string, { sizeInBytes: number; xxh128: string } | null>): void {
  for (const [, entry = ''] of text.matchAll(/<hash>([\s\S]*?)<\/hash>/g)) {
    const [, size, path] = /<path size="(\d+)"[^>]*>([^<]*)<\/path>/.exec(entry) ?? [];
    const [, action, digest] = /<xxh128 action="(\w+)"[^>]*>([0-9a-f]+)<\/xxh128>/.exec(entry) ?? [];
    if (path === undefined || digest === undefined) continue;
    files.set(unescaped(path), action === 'failed' ? null : { sizeInBytes: Number(size), xxh128: digest });
  }
}

function c4InChain(chain: string, name: string): string | null {
  const entries = [...chain.matchAll(/<path>([^<]*)<\/path>\s*<c4>([^<]*)<\/c4>/g)];
  return entries.find(([, path]) => unescaped(path ?? '') === name)?.[2] ?? null;
}

function namesIn(chain: string): readonly string[] {
  return [...chain.matchAll(/<path>([^<]*)<\/path>/g)].map(([, path]) => unescaped(path ?? ''));
}

function unescaped(text: string): string {
  return text
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&apos;', "'")
    .replaceAll('&amp;', '&');
}

const ALPHABET = '123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz';

function c4Of(bytes: Uint8Array): string {
  let rest = BigInt(`0x${createHash('sha512').update(bytes).digest('hex')}`);
  let digits = '';
  while (rest > 0n) {
    digits = `${ALPHABET[Number(rest % 58n)]}${digits}`;
    rest /= 58n;
  }
  return `c4${digits.padStart(88, '1')}`;
}
