import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { open, readdir, rm, stat } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { QuaysideError } from '@quayside/shoot';
import { errorCode } from './refusals.ts';

/** How long others are waited for, in milliseconds. Writing a history takes a fraction of that, on any drive. */
const PATIENCE_MS = 30_000;
/** A claim of another host, whose processes cannot be asked for, counts for so long. */
const FOREIGN_MS = 10 * 60_000;
const STEP_MS = 40;

/**
 * Does work on a history folder that nobody else may do at the same time, in this process or in another one. The folder must exist.
 *
 * Each writer lays a claim, a file of its own name, and goes on only if no other claim stands then: of two that come at once at
 * least one sees the other. A claim whose process has died does not stand, and is removed, which is safe because no name is used
 * twice. So neither a crash nor a power cut leaves the history locked.
 * @throws QuaysideError `MANIFEST_BUSY`
 */
export async function holdHistory<Result>(folder: string, work: () => Promise<Result>): Promise<Result> {
  const claim = await layClaim(folder);
  try {
    return await work();
  } finally {
    held.delete(claim);
    await rm(join(folder, claim), { force: true });
  }
}

/** Claims of this process that stand: its id alone would also make those stand that an earlier process of that id left. */
const held = new Set<string>();

async function layClaim(folder: string): Promise<string> {
  const deadline = performance.now() + PATIENCE_MS;
  for (;;) {
    // Looked at first, so that those who wait do not keep each other waiting.
    const before = await standingClaims(folder);
    const claim = claimName();
    if (before.length === 0) {
      held.add(claim);
      await (await open(join(folder, claim), 'wx')).close();
      const others = (await standingClaims(folder)).filter((name) => name !== claim);
      if (others.length === 0) return claim;
      held.delete(claim);
      await rm(join(folder, claim), { force: true });
    }
    if (performance.now() > deadline) throw busy(folder, before[0] ?? '');
    await wait(STEP_MS * (0.5 + Math.random()));
  }
}

/** `.writing-<host>-<boot>-<process id>-<its start>-<once>.claim`; the host may have hyphens of its own. */
function claimName(): string {
  const { pid } = process;
  return `.writing-${[hostname(), bootId(), pid, startOf(pid), randomUUID().slice(0, 8)].join('-')}.claim`;
}

const CLAIM = /^\.writing-(?<host>.*)-(?<boot>[0-9a-f]*)-(?<pid>\d+)-(?<start>\d*)-[0-9a-f]{8}\.claim$/;

async function standingClaims(folder: string): Promise<readonly string[]> {
  const standing: string[] = [];
  for (const name of await readdir(folder)) {
    const groups = CLAIM.exec(name)?.groups;
    if (groups === undefined) continue;
    if (await isStanding(join(folder, name), name, groups)) standing.push(name);
    else await rm(join(folder, name), { force: true });
  }
  return standing;
}

async function isStanding(
  path: string,
  name: string,
  { host, boot, pid, start }: Readonly<Record<string, string | undefined>>,
): Promise<boolean> {
  if (host !== hostname()) return isYoung(path);
  if (boot !== bootId()) return false;
  if (Number(pid) === process.pid) return held.has(name);
  return isAlive(Number(pid)) && start === startOf(Number(pid));
}

async function isYoung(path: string): Promise<boolean> {
  try {
    return Math.abs(Date.now() - (await stat(path)).mtimeMs) < FOREIGN_MS;
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return false;
    throw error;
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return errorCode(error) === 'EPERM';
  }
}

/** What tells one run of the machine from the next, where the system says it (proc_sys_kernel(5)); else nothing. */
function bootId(): string {
  return readOrNothing('/proc/sys/kernel/random/boot_id').replaceAll(/[^0-9a-f]/g, '');
}

/** When a process began, in ticks since the machine did (field 22 of proc_pid_stat(5)): ids are used again. Else nothing. */
function startOf(pid: number): string {
  // The second field is the program's name in brackets, which may hold anything.
  const fields = readOrNothing(`/proc/${pid}/stat`).split(') ').at(-1)?.split(' ') ?? [];
  return fields[19] ?? '';
}

function readOrNothing(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
}

function busy(folder: string, claim: string): QuaysideError {
  return new QuaysideError({
    code: 'MANIFEST_BUSY',
    sentence: `Another process is writing to the hash history in "${folder}" (its claim is the file "${claim}"), so nothing was added. It is tried again; if no other process works there, remove that file.`,
    retry: 'later',
  });
}
