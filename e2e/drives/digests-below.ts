import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

const run = promisify(execFile);

/** Digests of all files below a folder by their path, made by an independent tool of the system. */
export async function digestsBelow(
  folder: string,
  tool: 'md5sum' | 'sha1sum' = 'md5sum',
): Promise<ReadonlyMap<string, string>> {
  const { stdout } = await run(
    'sh',
    [
      '-c',
      `find . -type f -not -path './ascmhl/*' -not -path './lost+found/*' -print0 | sort -z | xargs -0 -r ${tool} -z`,
    ],
    {
      cwd: folder,
      maxBuffer: 2 ** 28,
    },
  );
  return new Map(
    stdout
      .split('\0')
      .filter((line) => line !== '')
      .map((line) => [line.slice(line.indexOf(' ') + 2).replace(/^\.\//, ''), line.slice(0, line.indexOf(' '))]),
  );
}
