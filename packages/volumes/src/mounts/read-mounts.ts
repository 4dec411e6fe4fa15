import { readFileSync } from 'node:fs';
import { QuaysideError } from '@quayside/shoot';
import { readMacMounts } from '../mac/read-mac-mounts.ts';
import type { MountEntry } from './mount-entry.ts';
import { parseMountinfo } from './parse-mountinfo.ts';
import { visibleMounts } from './visible-mounts.ts';

/** The mounts that this process can reach now. Reads no volume, so a drive that hangs does not hold it up. */
export async function readMounts(): Promise<readonly MountEntry[]> {
  return process.platform === 'darwin' ? readMacMounts() : readLinuxMounts();
}

let lastText = '';
let lastMounts: readonly MountEntry[] = [];

function readLinuxMounts(): readonly MountEntry[] {
  const text = readTable();
  if (text !== lastText) {
    lastMounts = visibleMounts(parseMountinfo(text));
    lastText = text;
  }
  return lastMounts;
}

/** Synchronous on purpose: it takes 0.1 ms, and the thread pool may be full of calls that hang on a dead drive. */
function readTable(): string {
  try {
    return readFileSync('/proc/self/mountinfo', 'utf8');
  } catch (error) {
    const sentence =
      'The list of mounted volumes, /proc/self/mountinfo, could not be read, so no volume can be seen. ' +
      'Check that /proc is mounted and that the service may open more files.';
    throw new QuaysideError({ code: 'MOUNT_TABLE_UNREADABLE', sentence, retry: 'later' }, { cause: error });
  }
}
