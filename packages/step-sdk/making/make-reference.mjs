// Writes REFERENCE.md from the types of the contract and their comments. With --check it writes nothing, and fails when the
// file is not what the types say now.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import process from 'node:process';
import { fileURLToPath } from 'node:url';

const SDK = fileURLToPath(new URL('..', import.meta.url));
const SHOOT = join(SDK, '../shoot/src');
const REFERENCE = join(SDK, 'REFERENCE.md');

/** What stands in which part, in the order in which one needs it. */
const PARTS = [
  ['A plugin and its steps', join(SDK, 'src'), ['define-plugin.ts', 'define-step.ts', 'step.ts', 'step-scope.ts']],
  ['What comes before', join(SDK, 'src'), ['dependency.ts']],
  ['What a run is given', join(SDK, 'src'), ['step-run.ts']],
  ['What it gives', join(SDK, 'src'), ['json-value.ts', 'step-failure.ts']],
  ['What it is told of its subject', SHOOT, ['step-subject.ts', 'clip-facts.ts']],
  ['Built-in steps and grants', SHOOT, ['plugin-description.ts']],
];
const HEAD = `# The contract, whole

Made from the types by \`node packages/step-sdk/making/make-reference.mjs\`, so it is what the compiler holds you to. Subjects are
stated as zod schemas; \`z.output\` of each is the type. For the way in see [the tutorial](TUTORIAL.md), for grants the
[README](README.md).
`;

const made = [HEAD, ...PARTS.map(([title, folder, files]) => partOf(title, folder, files))].join('\n');
if (!process.argv.includes('--check')) writeFileSync(REFERENCE, made);
else if (readFileSync(REFERENCE, 'utf8') !== made) {
  process.stderr.write(
    'REFERENCE.md is not what the types say. Make it: node packages/step-sdk/making/make-reference.mjs\n',
  );
  process.exitCode = 1;
}

function partOf(title, folder, files) {
  const declarations = files.flatMap((file) => declarationsIn(readFileSync(join(folder, file), 'utf8')));
  return `## ${title}\n\n\`\`\`ts\n${declarations.join('\n\n')}\n\`\`\`\n`;
}

/** The declarations of a module with their comments: a function without its body, a class with its members, imports left out. */
function declarationsIn(text) {
  const pieces = text.split(/\n(?=\/\*\*|export |const |type |interface )/);
  const joined = [];
  for (const piece of pieces) {
    // A comment belongs to what follows it.
    if (joined.at(-1)?.endsWith('*/')) joined.push(`${joined.pop()}\n${piece.trim()}`);
    else joined.push(piece.trim());
  }
  return joined.filter((piece) => !/^(import |const OWNER)/.test(piece) && piece !== '').map(withoutBody);
}

function withoutBody(piece) {
  const place = /^export function /m.exec(piece)?.index;
  if (place === undefined) return piece;
  // The signature ends with the only line that opens a block and is not inside one.
  return piece.slice(0, piece.indexOf(' {\n', place)) + ';';
}
