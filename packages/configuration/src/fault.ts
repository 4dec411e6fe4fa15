import { isAlias, isMap, isPair, isScalar, isSeq } from 'yaml';
import type { Document, LineCounter, Node } from 'yaml';

export type KeyPath = readonly (string | number)[];

/**
 * One thing that is wrong in the file. `at` says whether the key or its value is meant; `got` is what stands there, if
 * showing it helps.
 */
export interface Fault {
  readonly path: KeyPath;
  readonly at: 'key' | 'value';
  readonly what: string;
  readonly got?: unknown;
  readonly remedy: string;
}

/** A file that could be read as YAML: where each key and value stands. */
export interface ParsedFile {
  readonly name: string;
  readonly document: Document.Parsed;
  readonly lines: LineCounter;
}

/** Each fault as one line for a person, in the order of the file: `file:line:column key: what is wrong (got X); what to do`. */
export function describeFaults(faults: readonly Fault[], file: ParsedFile): string[] {
  const placed = faults.map((fault) => ({ fault, offset: offsetOf(fault, file.document) }));
  return placed
    .toSorted((one, other) => one.offset - other.offset)
    .map(({ fault, offset }) => {
      const { line, col } = file.lines.linePos(offset);
      return `${file.name}:${line}:${col} ${statement(fault)}`;
    });
}

/** The fault without its place in a file. */
export function statement(fault: Fault): string {
  const key = keyText(fault.path);
  const got = 'got' in fault ? ` (got ${shown(fault.got)})` : '';
  return `${key === '' ? '' : `${key}: `}${fault.what}${got}; ${fault.remedy}`;
}

/** A path of keys as a person writes it: `destinations[0].path`. */
function keyText(path: KeyPath): string {
  return path.map((part, at) => (typeof part === 'number' ? `[${part}]` : `${at === 0 ? '' : '.'}${part}`)).join('');
}

/** What a value looks like in a message: one line, shortened, and never a password. */
function shown(value: unknown): string {
  if (value === null || value === undefined) return 'nothing';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object') return 'a mapping';
  if (typeof value === 'number' && !Number.isFinite(value)) return String(value);
  const text = JSON.stringify(typeof value === 'string' ? withoutPassword(value) : value);
  return text.length > 80 ? `${text.slice(0, 77)}..."` : text;
}

/** A URL with its password taken out; any other text as it is. */
export function withoutPassword(text: string): string {
  return text.replace(/^([a-z+]+:\/\/[^/@]*?:).*@/i, '$1***@').replaceAll(/([?&]password=)[^&]*/gi, '$1***');
}

/** The nearest place that exists: the value, else its key, else what holds it. */
function offsetOf({ path, at }: Fault, document: Document.Parsed): number {
  let node: unknown = document.contents;
  let offset = startOf(node) ?? 0;
  for (const [depth, part] of path.entries()) {
    const next = stepInto(node, part, document);
    if (next === null) break;
    const isLast = depth === path.length - 1;
    offset = (isLast && at === 'key' ? startOf(next.key) : startOf(next.value)) ?? startOf(next.key) ?? offset;
    node = next.value;
  }
  return offset;
}

function stepInto(
  node: unknown,
  part: string | number,
  document: Document.Parsed,
): { key: unknown; value: unknown } | null {
  const target = isAlias(node) ? node.resolve(document) : node;
  if (isSeq(target))
    return typeof part === 'number' && part in target.items ? { key: null, value: target.items[part] } : null;
  if (!isMap(target)) return null;
  const pair = target.items.find(({ key }) => isScalar(key) && String(key.value) === String(part));
  return isPair(pair) ? { key: pair.key, value: pair.value } : null;
}

function startOf(node: unknown): number | null {
  // An empty value has a node of no length somewhere behind its key; its key is the better place.
  if (isScalar(node) && node.value === null && node.source === '') return null;
  const range = (node as Partial<Node> | null)?.range;
  return range?.[0] ?? null;
}
