import { LineCounter, parseDocument, visit } from 'yaml';
import type { YAMLError } from 'yaml';
import type { ParsedFile } from './fault.ts';

/** Either the file as plain values with the place of each, or the lines that say why it is no YAML mapping. */
export type YamlOutcome =
  | { readonly ok: true; readonly value: object; readonly file: ParsedFile }
  | { readonly ok: false; readonly lines: readonly string[] };

/** Reads YAML 1.2 text. Never runs away: aliases that multiply the text are refused, and so is more than one mebibyte. */
export function parseYaml(text: string, name: string): YamlOutcome {
  if (text.length > LARGEST)
    return refused(`${name}:1:1 is larger than 1 MiB; a configuration has a few dozen lines, check the path`);
  const lines = new LineCounter();
  // `prettyErrors` would put a drawing of the place into the message, which has its own way to say where.
  const document = parseDocument(text, {
    lineCounter: lines,
    prettyErrors: false,
    logLevel: 'error',
  });
  const placed = (offset: number, sentence: string): string => `${name}:${placeOf(offset, lines)} ${sentence}`;
  // Only the first: what follows a fault in the form is mostly its echo.
  const [complaint] = [...document.errors, ...document.warnings];
  if (complaint !== undefined) return refused(placed(complaint.pos[0], sentenceOf(complaint)));
  const dangling = danglingAliases(document).map((offset) => placed(offset, DANGLING));
  if (dangling.length > 0) return { ok: false, lines: dangling };
  const plain = toPlain(document);
  if (plain.value === undefined) return refused(`${name}:1:1 ${plain.why}`);
  if (plain.value === null)
    return refused(`${name}:1:1 is empty; write at least \`destinations\`, quayside.example.yaml shows how`);
  if (typeof plain.value !== 'object' || Array.isArray(plain.value)) {
    return refused(
      `${name}:1:1 is not a mapping of keys to values; write keys such as \`destinations:\` at the left margin`,
    );
  }
  return { ok: true, value: plain.value, file: { name, document, lines } };
}

function toPlain(document: ParsedFile['document']): { readonly value?: unknown; readonly why: string } {
  try {
    return { value: document.toJS({ maxAliasCount: 100 }), why: '' };
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error);
    return { why: `uses aliases (*name) that cannot be followed: ${detail}; write the values out` };
  }
}

function refused(line: string): YamlOutcome {
  return { ok: false, lines: [line] };
}

function placeOf(offset: number, lines: LineCounter): string {
  const { line, col } = lines.linePos(offset);
  return `${Math.max(line, 1)}:${Math.max(col, 1)}`;
}

/** Where a `*name` stands that no `&name` goes before: nearly always a pattern that wanted quotes. */
function danglingAliases(document: ParsedFile['document']): number[] {
  const offsets: number[] = [];
  visit(document, {
    Alias: (_, alias) => {
      if (alias.resolve(document) === undefined) offsets.push(alias.range?.[0] ?? 0);
    },
  });
  return offsets;
}

function sentenceOf({ code, message }: YAMLError): string {
  const own = SENTENCES[code];
  if (own !== undefined) return own;
  return `is not YAML: ${message.replace(/[.:]+$/, '')}; correct the line, quayside.example.yaml shows the form`;
}

const SENTENCES: Readonly<Partial<Record<YAMLError['code'], string>>> = {
  DUPLICATE_KEY: 'has the same key twice in one mapping; keep one of them',
  BAD_INDENT: 'is indented unlike its neighbours; line it up with the keys that belong together',
  BLOCK_AS_IMPLICIT_KEY: 'has a second ": " in one line; put text that holds ": " in quotes',
  TAB_AS_INDENT: 'is indented with a tab; use spaces',
  MULTIPLE_DOCS: 'begins a second document with "---"; keep one per file',
  UNEXPECTED_TOKEN: 'has a sign that means something in YAML, such as one of []{},#; put the text in quotes',
  TAG_RESOLVE_FAILED: 'has a tag (!name), which has no meaning here; remove it',
};

const DANGLING = 'begins with "*", which YAML takes for an alias; put the text in quotes';

const LARGEST = 1024 * 1024;
