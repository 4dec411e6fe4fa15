import { execFileSync } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { copyRequestFor, hasTool, type TestCopy } from '../media-files.test-support.ts';

/** Why system calls cannot be traced here, or null. */
export const whyNoTrace = hasTool('strace') ? null : 'there is no strace';

const CALLS = '%file,fsync,fdatasync,syncfs,ftruncate,fchmod,fchown,utimensat,pwrite64,write';

/**
 * Copies in a process of its own under strace, and gives every system call that names a file, changes one or syncs one, in
 * the order in which they ended. `folder` takes the request and the trace.
 */
export async function traceCopy(folder: string, copy: TestCopy): Promise<string[]> {
  const request = join(folder, 'request.json');
  const trace = join(folder, 'trace');
  await writeFile(request, JSON.stringify(await copyRequestFor(copy)));
  const script = fileURLToPath(new URL('./copy-in-this-process.test-support.ts', import.meta.url));
  const program = [process.execPath, '--conditions=source', script, request];
  execFileSync('strace', ['-f', '-y', '-qq', '-o', trace, '-e', `trace=${CALLS}`, ...program]);
  return joinResumed(await readFile(trace, 'utf8'));
}

/** Calls that another thread interrupted stand in two lines; what counts is when they ended. */
function joinResumed(trace: string): string[] {
  const unfinished = new Map<string, string>();
  const lines: string[] = [];
  for (const line of trace.split('\n')) {
    const [, pid = '', rest = ''] = /^(\d+)\s+(.*)$/.exec(line) ?? [];
    const begun = /^(.*) <unfinished \.\.\.>$/.exec(rest)?.[1];
    const resumed = /^<\.\.\. \w+ resumed>(.*)$/.exec(rest)?.[1];
    if (begun !== undefined) unfinished.set(pid, begun);
    else lines.push(resumed === undefined ? rest : (unfinished.get(pid) ?? '') + resumed);
  }
  return lines;
}
