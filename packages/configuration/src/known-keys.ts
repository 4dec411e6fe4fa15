import { closestMatch } from 'leven';
import { z } from 'zod';
import { configurationJsonSchema } from './configuration-json-schema.ts';
import type { KeyPath } from './fault.ts';

/** The part of a JSON Schema that is read here. */
const SchemaNode = z.object({
  get properties() {
    return z.record(z.string(), SchemaNode).optional();
  },
  get additionalProperties() {
    return z.union([z.boolean(), SchemaNode]).optional();
  },
  get items() {
    return SchemaNode.optional();
  },
});
type SchemaNode = z.output<typeof SchemaNode>;

/** What to do about a key that is not known at this place: the nearest known one, the place it belongs to, or all there are. */
export function remedyForUnknownKey(parent: KeyPath, key: string): string {
  const root = SchemaNode.parse(configurationJsonSchema());
  const known = Object.keys(nodeAt(root, parent)?.properties ?? {});
  const elsewhere = keysBelow(root, '').find((path) => path.split('.').at(-1) === key);
  if (elsewhere !== undefined) return `it belongs at "${elsewhere}"`;
  const nearest = nearestOf(key, known);
  return nearest === null ? `the keys here are ${known.join(', ')}` : `did you mean "${nearest}"?`;
}

/** The candidate that was most likely meant, or null when none is near. */
export function nearestOf(written: string, candidates: readonly string[]): string | null {
  const byFolded = new Map(candidates.map((candidate) => [folded(candidate), candidate]));
  const maxDistance = Math.max(1, Math.round(written.length * 0.4));
  const nearest = closestMatch(folded(written), [...byFolded.keys()], { maxDistance });
  return nearest === undefined ? null : (byFolded.get(nearest) ?? null);
}

/** `settle_seconds` and `settle-seconds` mean `settleSeconds`. */
function folded(key: string): string {
  return key.replaceAll(/[-_ ]/g, '').toLowerCase();
}

function nodeAt(root: SchemaNode, path: KeyPath): SchemaNode | null {
  let node: SchemaNode | null = root;
  for (const part of path) {
    if (node === null) return null;
    node = typeof part === 'number' ? (node.items ?? null) : (node.properties?.[part] ?? childOf(node));
  }
  return node;
}

function childOf(node: SchemaNode): SchemaNode | null {
  return typeof node.additionalProperties === 'object' ? node.additionalProperties : null;
}

/** Every key that stands at one fixed place, as dotted paths. Those inside lists and below names are left out. */
function keysBelow(node: SchemaNode, prefix: string): string[] {
  return Object.entries(node.properties ?? {}).flatMap(([key, child]) => [
    `${prefix}${key}`,
    ...keysBelow(child, `${prefix}${key}.`),
  ]);
}
