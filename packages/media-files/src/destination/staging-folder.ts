import { createHash } from 'node:crypto';
import { readdir, readFile, rm } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { unlessCode } from '../direct-io/file-calls.ts';
import { forgetOldParts, saveParts } from '../resume/part-folders.ts';
import { createDestinationFolder } from './create-destination-folder.ts';
import { STAGING_FOLDER } from './destination-folders.ts';

/**
 * Opens this process's own staging folder at a destination, and removes what processes of this host left there when they
 * died, except the parts of large copies that can be gone on with.
 */
export async function openStagingFolder(root: string): Promise<string> {
  const staging = join(root, STAGING_FOLDER);
  const owner = await thisProcess();
  const own = join(staging, ownerName(owner));
  await createDestinationFolder(root, own);
  for (const name of await readdir(staging)) {
    if (!isLeftOver(name, owner)) continue;
    await saveParts(join(staging, name));
    await rm(join(staging, name), { recursive: true, force: true });
  }
  await forgetOldParts(staging, Date.now());
  return own;
}

interface Owner {
  readonly host: string;
  readonly boot: string;
  readonly pid: number;
}

function ownerName({ host, boot, pid }: Owner): string {
  return `${host}-${boot}-${pid}`;
}

function isLeftOver(name: string, here: Owner): boolean {
  const [, host, boot, pid] = /^([0-9a-f]{8})-([0-9a-f]{8})-(\d+)$/.exec(name) ?? [];
  // Another host's staging may be in use over a network share.
  if (host !== here.host) return false;
  return boot !== here.boot || !isAlive(Number(pid));
}

function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}

async function thisProcess(): Promise<Owner> {
  const bootId = await unlessCode(['ENOENT', 'EACCES'], readFile('/proc/sys/kernel/random/boot_id', 'utf8'));
  return { host: shortDigest(hostname()), boot: shortDigest(bootId ?? 'unknown'), pid: process.pid };
}

function shortDigest(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 8);
}
