import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { GuestRights } from './guest-rights.ts';

/** What the operating system itself keeps from a guest's process and from all that it starts. */
export interface SystemFences {
  /** No network but its own, which leads nowhere, for a step without that grant (Linux, unshare(1)). */
  readonly network: boolean;
  /** No file larger than the step's output, no core dumps, and a ceiling for memory (Linux, prlimit(1)). */
  readonly limits: boolean;
  /** No rights by programs that give some, and an end when the host ends (Linux, setpriv(1)). */
  readonly privileges: boolean;
  /**
   * Its reading and writing comes after everybody else's, where the disk's scheduler knows of that (Linux, ionice(1)). Not the
   * class `idle`: beside a copy that never pauses it would wait until its time is over.
   */
  readonly quietDisk: boolean;
}

interface Tools {
  /** The command line up to the program that is to have no network; null where that is not to be had. */
  readonly withoutNetwork: readonly string[] | null;
  readonly prlimit: string | null;
  readonly setpriv: string | null;
  readonly ionice: string | null;
}

/** What Node takes for its own beside a plugin's memory: it reserves more than it uses, and the ceiling counts that. */
const OF_NODE_ITSELF_MB = 1500;
const MB = 1e6;
let found: Tools | null = null;

/** What this system gives, without any rights of an administrator's. It is tried once. */
export function systemFences(): SystemFences {
  const { withoutNetwork, prlimit, setpriv, ionice } = tools();
  return {
    network: withoutNetwork !== null,
    limits: prlimit !== null,
    privileges: setpriv !== null,
    quietDisk: ionice !== null,
  };
}

/** The command line that a guest's own is put behind. Each program in it becomes the next one: there is one process. */
export function fencesBefore({ grants, memoryMb, programsMb, outputMb }: GuestRights): readonly string[] {
  const { withoutNetwork, prlimit, setpriv, ionice } = tools();
  const mostMb = grants.includes('child-processes') ? Math.max(memoryMb, programsMb) : memoryMb;
  return [
    ...(grants.includes('network') ? [] : (withoutNetwork ?? [])),
    ...(ionice === null ? [] : [ionice, '--class', 'best-effort', '--classdata', '7', '--ignore']),
    ...(prlimit === null
      ? []
      : [
          prlimit,
          '--core=0',
          `--fsize=${bytes(outputMb)}`,
          // Per process: what it starts together is counted by the host.
          `--data=${bytes(mostMb + OF_NODE_ITSELF_MB)}`,
        ]),
    // Last, since a process that gets a network of its own loses its tie to the host.
    ...(setpriv === null ? [] : [setpriv, '--pdeathsig', 'KILL', '--no-new-privs']),
  ];
}

function bytes(megabytes: number): string {
  return String(Math.ceil(megabytes * MB));
}

function tools(): Tools {
  found ??= findTools();
  return found;
}

function findTools(): Tools {
  if (process.platform !== 'linux') return { withoutNetwork: null, prlimit: null, setpriv: null, ionice: null };
  return {
    withoutNetwork: commandWithoutNetwork(programAt('unshare')),
    prlimit: programAt('prlimit'),
    setpriv: programAt('setpriv'),
    ionice: programAt('ionice'),
  };
}

/** Root may do without a network at once, others where the kernel lets them make a user namespace. */
function commandWithoutNetwork(unshare: string | null): readonly string[] | null {
  if (unshare === null) return null;
  const ways = [
    [unshare, '--net'],
    [unshare, '--user', '--map-current-user', '--net'],
  ];
  return ways.find(([program = '', ...args]) => works(program, [...args, '/bin/true'])) ?? null;
}

function works(program: string, args: readonly string[]): boolean {
  try {
    execFileSync(program, args, { stdio: 'ignore', timeout: 10_000 });
    return true;
  } catch {
    return false;
  }
}

function programAt(name: string): string | null {
  return ['/usr/bin', '/bin'].map((folder) => join(folder, name)).find((path) => existsSync(path)) ?? null;
}
