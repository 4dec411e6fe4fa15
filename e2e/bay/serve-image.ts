import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { QuaysideError } from '@quayside/shoot';
import { TOOL_FOLDERS } from '../drives/run-tool.ts';

export interface ImageOrder {
  readonly image: string;
  /** A folder of its own, for the socket, the switches and the write cache. */
  readonly folder: string;
  readonly readOnly: boolean;
  /**
   * `keeps writes until a flush`: as drives do; a power cut loses what was not flushed. `has a bad region`: reads of a
   * region can be made to fail; read-only, and slower. Else it is served as it is.
   */
  readonly manner: 'plain' | 'keeps writes until a flush' | 'has a bad region';
}

/** An image served by nbdkit, with the switches of a drive that misbehaves. */
export interface ServedImage {
  readonly socket: string;
  /** Limits reading and writing, each, to so many bytes a second; null for as fast as it goes. */
  slowDown(bytesPerSecond: number | null): Promise<void>;
  /** While on, each read is answered with EIO. */
  failReads(isOn: boolean): Promise<void>;
  /** While on, each write is answered with EIO. */
  failWrites(isOn: boolean): Promise<void>;
  /** Reads that touch these bytes are answered with EIO, until null. Needs the manner `has a bad region`. */
  breakRegion(region: { readonly from: number; readonly to: number } | null): Promise<void>;
  /** Ends it without warning: all further requests fail, and what was not flushed is lost. */
  cut(): Promise<void>;
  /** Ends it in order. */
  end(): Promise<void>;
}

/** Bits: more than any drive here gives. The filter keeps its last limit when the file is removed. */
const UNLIMITED = '1000G';
const START_WITHIN_MS = 10_000;

/**
 * Serves a drive's image through nbdkit's error and rate filters (and its write-back cache) on a Unix socket.
 * @throws QuaysideError `BAY_TOOL_FAILED` when nbdkit does not start; nothing runs then.
 */
export async function serveImage(order: ImageOrder): Promise<ServedImage> {
  const { folder } = order;
  await mkdir(folder, { recursive: true });
  const switches = {
    rate: join(folder, 'rate'),
    reads: join(folder, 'reads-fail'),
    writes: join(folder, 'writes-fail'),
    region: join(folder, 'bad-region'),
  };
  const socket = join(folder, 'socket');
  for (const path of [socket, switches.reads, switches.writes, switches.region]) await rm(path, { force: true });
  await writeFile(switches.rate, UNLIMITED);
  const server = spawn('nbdkit', [...serverWords(order, socket), ...pluginWords(order, switches)], {
    // In a group of its own: Ctrl-C must reach us first, who take the drives out in order.
    detached: true,
    stdio: ['ignore', 'ignore', 'pipe'],
    env: { PATH: TOOL_FOLDERS, TMPDIR: folder, LC_ALL: 'C.UTF-8' },
  });
  await untilServing(server, socket);

  return {
    socket,
    async slowDown(bytesPerSecond) {
      // Put in place whole, as nbdkit-rate-filter(1) asks.
      await writeFile(`${switches.rate}.new`, bytesPerSecond === null ? UNLIMITED : String(bytesPerSecond * 8));
      await rename(`${switches.rate}.new`, switches.rate);
    },
    failReads: (isOn) => flip(switches.reads, isOn),
    failWrites: (isOn) => flip(switches.writes, isOn),
    async breakRegion(region) {
      if (region === null) return rm(switches.region, { force: true });
      await writeFile(`${switches.region}.new`, `${region.from} ${region.to}\n`);
      await rename(`${switches.region}.new`, switches.region);
    },
    cut: () => end(server, 'SIGKILL'),
    end: () => end(server, 'SIGTERM'),
  };
}

function serverWords({ readOnly }: ImageOrder, socket: string): readonly string[] {
  return ['--foreground', '--exit-with-parent', ...(readOnly ? ['--readonly'] : []), '--unix', socket];
}

interface Switches {
  readonly rate: string;
  readonly reads: string;
  readonly writes: string;
  readonly region: string;
}

// The first filter is the outermost, so errors and limits apply also to what the cache would answer.
function pluginWords({ image, manner }: ImageOrder, switches: Switches): readonly string[] {
  const isCaching = manner === 'keeps writes until a flush';
  return [
    '--filter=error',
    '--filter=rate',
    ...(isCaching ? ['--filter=cache'] : []),
    ...(manner === 'has a bad region' ? brokenDisk(image, switches.region) : ['file', image]),
    ...(isCaching ? ['cache=writeback'] : []),
    // Without its savings of two seconds, so that it is slow from the first byte on.
    `rate-file=${switches.rate}`,
    'burstiness=0.1',
    'error=EIO',
    ...['pread', 'pwrite', 'zero', 'trim'].flatMap((call) => [
      `error-${call}-rate=100%`,
      `error-${call}-file=${call === 'pread' ? switches.reads : switches.writes}`,
    ]),
  ];
}

/** nbdkit has no filter for a region that can be switched, so a shell reads for it: `pread <handle> <count> <offset>`. */
function brokenDisk(image: string, region: string): readonly string[] {
  const file = `'${image}'`;
  const isBad = `[ -f '${region}' ] && read -r from to < '${region}' && [ "$4" -lt "$to" ] && [ "$(($4 + $3))" -gt "$from" ]`;
  const read = `exec dd if=${file} bs=262144 skip="$4" count="$3" iflag=skip_bytes,count_bytes status=none`;
  return [
    'eval',
    `get_size=stat -Lc %s ${file}`,
    `pread=if ${isBad}; then echo EIO bad sector >&2; exit 1; fi; ${read}`,
  ];
}

async function flip(path: string, isOn: boolean): Promise<void> {
  if (isOn) await writeFile(path, '');
  else await rm(path, { force: true });
}

async function untilServing(server: ChildProcess, socket: string): Promise<void> {
  let words = '';
  server.stderr?.setEncoding('utf8').on('data', (text: string) => {
    words = (words + text).slice(-1000);
  });
  const failed = once(server, 'error').then(([error]) => String(error));
  const ended = once(server, 'exit').then(() => words);
  const deadline = performance.now() + START_WITHIN_MS;
  while (!existsSync(socket)) {
    const trouble = await Promise.race([failed, ended, wait(5, null)]);
    if (trouble !== null || performance.now() > deadline) {
      await end(server, 'SIGKILL');
      const sentence = `nbdkit does not serve: ${trouble ?? 'its socket did not appear'}`;
      throw new QuaysideError({ code: 'BAY_TOOL_FAILED', sentence, retry: 'never' });
    }
  }
}

async function end(child: ChildProcess, signal: NodeJS.Signals): Promise<void> {
  if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
  const gone = once(child, 'exit');
  child.kill(signal);
  await gone;
}
