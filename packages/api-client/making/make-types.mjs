// Makes the types of every path, answer and problem from the API's description of today; with --print it only shows them.
// Plain JavaScript: only the generator itself needs the older TypeScript that npm keeps below this package.
import { execFile } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { format } from 'oxfmt';
import openapiTypescript, { astToString } from 'openapi-typescript';

const TYPES = fileURLToPath(new URL('../src/generated/api-paths.ts', import.meta.url));
const DOCUMENT = fileURLToPath(new URL('../../../apps/admin-api/src/print-document.ts', import.meta.url));

const FORMAT = fileURLToPath(new URL('../../../.config/oxfmt.json', import.meta.url));

const BANNER = `// Made by \`npm run generate --workspace @quayside/api-client\` from the API's OpenAPI document; not to be edited by hand.
/* oxlint-disable -- a generator has its own ways */

`;

async function typesOfToday() {
  const { stdout } = await promisify(execFile)(process.execPath, ['--conditions=source', DOCUMENT], {
    maxBuffer: 2 ** 26,
  });
  const made = BANNER + astToString(await openapiTypescript(JSON.parse(stdout), { immutable: true }));
  const { code, errors } = await format(TYPES, made, JSON.parse(await readFile(FORMAT, 'utf8')));
  if (errors.length > 0) throw new Error(errors[0].message);
  return code;
}

const types = await typesOfToday();
if (process.argv.includes('--print')) process.stdout.write(types);
else await writeFile(TYPES, types);
