import { stat } from 'node:fs/promises';
import { QuaysideError } from '@quayside/shoot';
import { askTool } from '../ask-tool.ts';
import { deviceNumber } from '../mounts/device-number.ts';
import type { MountEntry } from '../mounts/mount-entry.ts';
import { type MacMount, parseMacMounts } from './parse-mac-mounts.ts';

/** The mounts of a Mac. A mount that is gone before it could be looked at is left out. Written from memory, not run on a Mac. */
export async function readMacMounts(): Promise<readonly MountEntry[]> {
  const answer = await askTool('mount', []);
  if (answer.outcome === 'ran' && answer.exitCode === 0) {
    return (await Promise.all(parseMacMounts(answer.output).map(withDevice))).filter((mount) => mount !== null);
  }
  const sentence =
    'The list of mounted volumes could not be read: the `mount` command did not answer. Try it in a terminal.';
  throw new QuaysideError({ code: 'MOUNT_TABLE_UNREADABLE', sentence, retry: 'later' });
}

async function withDevice(mount: MacMount): Promise<MountEntry | null> {
  // Gone in the meantime, or not ours to look at: then it is no volume for us.
  const found = await stat(mount.path, { bigint: true }).catch(() => null);
  if (!found) return null;
  const device = deviceNumber(found.dev);
  return { ...mount, device, mountId: device, root: '/', serverAddress: null };
}
