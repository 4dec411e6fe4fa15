import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

// Shared by all tests of a run, since compiling the sources anew is most of what a command takes.
const COMPILE_CACHE = join(tmpdir(), 'quayside-test-compile-cache');
const MAIN = fileURLToPath(new URL('main.ts', import.meta.url));

export interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Started {
  readonly child: ChildProcess;
  readonly ended: Promise<Ended>;
  /** Waits until standard output or error holds the text. */
  sees(text: string | RegExp): Promise<void>;
}

/** Starts the real command as a shell would, without a terminal. */
export function startQuayside(
  args: readonly string[],
  env: Record<string, string> = {},
  cwd: string = tmpdir(),
): Started {
  const child = spawn(process.execPath, ['--conditions=source', MAIN, ...args], {
    cwd,
    env: { PATH: process.env['PATH'] ?? '', HOME: tmpdir(), NODE_COMPILE_CACHE: COMPILE_CACHE, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const text = { stdout: '', stderr: '' };
  const looks = new Set<() => void>();
  for (const name of ['stdout', 'stderr'] as const) {
    child[name].setEncoding('utf8').on('data', (more: string) => {
      text[name] += more;
      for (const look of looks) look();
    });
  }
  const ended = once(child, 'close').then(() => ({ code: child.exitCode, ...text }));
  return {
    child,
    ended,
    async sees(wanted) {
      const isThere = (): boolean => {
        const all = text.stdout + text.stderr;
        return typeof wanted === 'string' ? all.includes(wanted) : wanted.test(all);
      };
      await new Promise<void>((resolve, reject) => {
        const look = (): void => {
          if (!isThere()) return;
          looks.delete(look);
          resolve();
        };
        looks.add(look);
        look();
        void ended.then(() => reject(new Error(`It ended without "${String(wanted)}":\n${text.stdout}${text.stderr}`)));
      });
    },
  };
}

/** Runs the real command to its end. */
export async function quayside(
  args: readonly string[],
  env: Record<string, string> = {},
  cwd?: string,
): Promise<Ended> {
  return startQuayside(args, env, cwd).ended;
}

/** A folder with a configuration of two destinations; `await using` removes it. */
export interface Home extends AsyncDisposable {
  readonly folder: string;
  readonly file: string;
  readonly data: string;
}

export async function makeHome(more: { readonly port?: number; readonly lines?: string } = {}): Promise<Home> {
  const folder = await mkdtemp(join(tmpdir(), 'quayside-cli-'));
  for (const name of ['primary', 'backup', 'drives']) await mkdir(join(folder, name));
  const file = join(folder, 'quayside.yaml');
  const data = join(folder, 'data');
  await writeFile(
    file,
    `data: ${data}
api: { port: ${more.port ?? 0} }
watch: { roots: [${join(folder, 'drives')}], folders: true, settleSeconds: 0.3, relistSeconds: 0.5 }
sameDevice: accept
recorders:
  wheel: { role: camera, match: [{ label: WHEEL }] }
  desk: { role: sound, match: [{ label: DESK }] }
destinations:
  - { name: primary, path: ${join(folder, 'primary')}, keepFreeBytes: 1 MiB }
  - { name: backup, path: ${join(folder, 'backup')}, keepFreeBytes: 1 MiB }
${more.lines ?? ''}`,
  );
  return {
    folder,
    file,
    data,
    [Symbol.asyncDispose]: async () => {
      await endService(folder, data);
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** Ends the service that a test which failed half-way has left running (Linux: reads /proc). */
async function endService(home: string, data: string): Promise<void> {
  const pid = Number.parseInt(await readFile(join(data, 'service.pid'), 'utf8').catch(() => ''), 10);
  // The number outlives its process, and another one may have got it meanwhile.
  const isOurs = async (): Promise<boolean> =>
    (await readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '')).includes(home);
  if (await isOurs()) process.kill(pid, 'SIGTERM');
  // What it writes at its end would bring the folder back.
  for (let look = 0; look < 100 && (await isOurs()); look += 1) await wait(100);
}
