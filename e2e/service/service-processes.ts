import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

const run = promisify(execFile);

export type ProcessName =
  | 'movers'
  | 'watcher'
  | 'worker'
  | 'guests'
  | 'guest'
  | 'API'
  | 'Redis'
  | 'supervisor'
  | 'other';

export interface ServiceProcess {
  readonly pid: number;
  readonly name: ProcessName;
}

/** How the processes of the service are known by their command lines. */
const NAMES: readonly (readonly [name: ProcessName, mark: RegExp])[] = [
  ['movers', /mover-process/],
  ['watcher', /apps\/watcher\//],
  ['guest', /guest-process/],
  ['guests', /apps\/guests\//],
  ['worker', /apps\/worker\//],
  ['API', /apps\/admin-api\//],
  ['Redis', /(?:redis|valkey)-server/],
  ['supervisor', /apps\/cli\//],
];

/** Which part of the service a process is, by its command line. */
export function processNameOf(command: string): ProcessName {
  return NAMES.find(([, mark]) => mark.test(command))?.[0] ?? 'other';
}

/** A process and all that it and its children have started, parents first, as ps(1) tells it. */
export async function processesBelow(root: number): Promise<readonly ServiceProcess[]> {
  const { stdout } = await run('ps', ['-axww', '-o', 'pid=,ppid=,args='], { maxBuffer: 2 ** 26 });
  const rows = stdout.split('\n').flatMap((line) => {
    const [, pid, parent, command = ''] = /^\s*(\d+)\s+(\d+)\s+(.*)$/.exec(line) ?? [];
    return pid === undefined ? [] : [{ pid: Number(pid), parent: Number(parent), name: processNameOf(command) }];
  });
  const found = rows.filter(({ pid }) => pid === root);
  // The list grows under the loop, so the children of children are met too.
  for (const { pid } of found) found.push(...rows.filter(({ parent }) => parent === pid));
  return found.map(({ pid, name }) => ({ pid, name }));
}
