import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

const run = promisify(execFile);

/** What a manifest says of each file: the digests of these names by path. Read by xmllint, which is libxml2's. */
export async function hashesListed<Name extends string>(
  manifest: string,
  names: readonly Name[],
): Promise<ReadonlyMap<string, Readonly<Record<Name, string>>>> {
  const text = async (expression: string): Promise<string> =>
    (await run('xmllint', ['--xpath', expression, manifest])).stdout.replace(/\n$/, '');
  const hash = `/*[local-name()="hashlist"]/*[local-name()="hashes"]/*[local-name()="hash"]`;
  const count = Number(await text(`count(${hash})`));
  const listed = new Map<string, Readonly<Record<Name, string>>>();
  for (let index = 1; index <= count; index += 1) {
    const value = (name: string): Promise<string> => text(`string(${hash}[${index}]/*[local-name()="${name}"])`);
    const digests = await Promise.all(names.map(async (name) => [name, await value(name)] as const));
    listed.set(await value('path'), Object.fromEntries(digests) as Record<Name, string>);
  }
  return listed;
}
