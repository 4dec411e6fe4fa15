import { execFile, execFileSync, spawn } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { promisify } from 'node:util';
import type { MountEntry } from './mounts/mount-entry.ts';
import { readMounts } from './mounts/read-mounts.ts';

/** Why real volumes cannot be made here, or the empty string. It stands in the titles of the tests that are then left out. */
export const cannotMount = reasonAgainst(['losetup', 'mkfs.ext4', 'mkfs.exfat', 'mount.exfat-fuse', 'blkid']);

/** As `cannotMount`, for tests that need more tools. */
export function reasonAgainst(tools: readonly string[]): string {
  if (process.platform !== 'linux') return ' (left out: needs Linux)';
  if (process.getuid?.() !== 0) return ' (left out: needs root to mount)';
  if (!existsSync('/dev/loop-control')) return ' (left out: no loop devices)';
  const missing = tools.filter(
    (tool) => !['/usr/sbin', '/sbin', '/usr/bin', '/bin'].some((bin) => existsSync(join(bin, tool))),
  );
  return missing.length > 0 ? ` (left out: ${missing.join(', ')} not installed)` : '';
}

/** Why no btrfs can be made here. Its maker looks at every mount first, and one whose program has died stops it. */
export function reasonAgainstBtrfs(): string {
  const tools = cannotMount || reasonAgainst(['mkfs.btrfs', 'btrfs']);
  if (tools !== '') return tools;
  const dead = readFileSync('/proc/self/mounts', 'utf8')
    .split('\n')
    .map((line) => line.split(' ')[1])
    .find((path) => path !== undefined && path.startsWith('/') && isDead(path));
  return dead === undefined ? '' : ` (left out: the mount at ${dead} is dead)`;
}

function isDead(path: string): boolean {
  try {
    statSync(path);
    return false;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'ENOTCONN';
  }
}

/** Runs a tool and gives what it printed. */
export function run(command: string, ...args: readonly string[]): string {
  return execFileSync(command, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
}

/** As `run`, without keeping this process from its own work. A program that does not end is ended, before its test is given up. */
export async function runLater(command: string, ...args: readonly string[]): Promise<string> {
  return (await promisify(execFile)(command, args, { timeout: 25_000, killSignal: 'SIGKILL' })).stdout;
}

/** Real volumes in a folder of their own. Disposing unmounts and detaches everything it made, also after a failed test. */
export class VolumeRig implements Disposable {
  readonly folder = mkdtempSync(join(tmpdir(), 'quayside-volumes-'));
  readonly #mounts: string[] = [];
  readonly #loops: string[] = [];
  readonly #servers: number[] = [];
  #images = 0;

  /** A folder below the rig's own. */
  dir(name: string): string {
    const path = join(this.folder, name);
    mkdirSync(path, { recursive: true });
    return path;
  }

  image(mebibytes = 32): string {
    this.#images += 1;
    const path = join(this.folder, `image-${this.#images}`);
    writeFileSync(path, '');
    truncateSync(path, mebibytes * 1024 * 1024);
    return path;
  }

  ext4(label: string, ...options: readonly string[]): string {
    return this.#formatted('mkfs.ext4', '-q', '-F', '-L', label, ...options);
  }

  exfat(label: string): string {
    return this.#formatted('mkfs.exfat', '-L', label);
  }

  #formatted(command: string, ...args: readonly string[]): string {
    const image = this.image();
    run(command, ...args, image);
    return image;
  }

  /** Attaches an image and gives its device, `/dev/loop3`. */
  attach(image: string, ...options: readonly string[]): string {
    const device = run('losetup', '-f', '--show', ...options, image).trim();
    this.#loops.push(device);
    return device;
  }

  detach(device: string): void {
    run('losetup', '-d', device);
    this.#loops.splice(this.#loops.indexOf(device), 1);
  }

  /** A disk whose server is a process of its own: stop that, and the disk hangs like a dying drive. */
  async slowDisk(): Promise<{ readonly device: string; readonly server: number }> {
    const file = join(this.dir('served'), 'disk');
    writeFileSync(file, '');
    const [socket, ready] = [join(this.folder, 'server.socket'), join(this.folder, 'fuse.pid')];
    const server = spawn('nbdkit', ['-f', '-U', socket, 'memory', '32M'], { stdio: 'ignore' });
    if (server.pid === undefined) throw new Error('nbdkit did not start');
    this.#servers.push(server.pid);
    await waitFor(socket);
    this.#mounts.push(file);
    spawn('nbdfuse', ['-P', ready, file, '--unix', socket], { stdio: 'ignore' });
    await waitFor(ready);
    return { device: this.attach(file, '--direct-io=on'), server: server.pid };
  }

  mount(source: string, path: string, ...options: readonly string[]): void {
    run('mount', ...options, source, path);
    this.#mounts.push(path);
  }

  unmount(path: string, ...options: readonly string[]): void {
    run('umount', ...options, path);
    this.#mounts.splice(this.#mounts.lastIndexOf(path), 1);
  }

  [Symbol.dispose](): void {
    // A server that was stopped would keep everything above it from letting go.
    for (const server of this.#servers) process.kill(server, 'SIGCONT');
    const served = this.#mounts.filter((path) => path.startsWith(join(this.folder, 'served')));
    const others = this.#mounts.filter((path) => !served.includes(path)).toReversed();
    const steps = [
      ...others.map((path) => () => run('umount', '-l', path)),
      ...this.#loops.map((device) => () => run('losetup', '-d', device)),
      ...served.map((path) => () => run('umount', '-l', path)),
      ...this.#servers.map((server) => () => process.kill(server, 'SIGTERM')),
    ];
    const failed = steps.flatMap((step) => errorOf(step) ?? []);
    // What is still mounted must not be deleted through.
    if (failed.length > 0) throw new AggregateError(failed, `${this.folder} could not be cleaned up`);
    rmSync(this.folder, { recursive: true, force: true });
  }
}

function errorOf(step: () => unknown): unknown {
  try {
    step();
    return null;
  } catch (error) {
    return error;
  }
}

async function waitFor(path: string): Promise<void> {
  for (let tries = 0; !existsSync(path); tries += 1) {
    if (tries > 500) throw new Error(`${path} did not appear`);
    await setTimeout(20);
  }
}

/** The mount at a path, which must be there. */
export async function mountAt(path: string): Promise<MountEntry> {
  const mount = (await readMounts()).find((entry) => entry.path === path);
  if (!mount) throw new Error(`nothing is mounted at ${path}`);
  return mount;
}

/** The process that serves a FUSE mount of this device. */
export function fuseServerOf(device: string): number {
  const pids = readdirSync('/proc').filter((name) => /^\d+$/.test(name));
  const pid = pids.find((name) => {
    const [command, ...args] = commandOf(name);
    return command?.includes('exfat-fuse') && args.includes(device);
  });
  if (!pid) throw new Error(`no exfat-fuse serves ${device}`);
  return Number(pid);
}

function commandOf(pid: string): readonly string[] {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, 'utf8').split('\0');
  } catch {
    // Ended since the listing.
    return [];
  }
}
