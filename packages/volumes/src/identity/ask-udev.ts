import { readdirSync, readlinkSync } from 'node:fs';
import { basename, join } from 'node:path';
import { askTool } from '../ask-tool.ts';
import { decodeUdev } from './decode-udev.ts';

/** What udev has noted about a device. Needs no rights; all null where udev does not run. */
export interface UdevFacts {
  readonly format: string | null;
  readonly uuid: string | null;
  readonly label: string | null;
  readonly serial: string | null;
}

/** Asks udev's links below `/dev/disk` and, through `lsblk`, its database. Never throws. */
export async function askUdev(device: { readonly name: string; readonly node: string }): Promise<UdevFacts> {
  const answer = await askTool('lsblk', ['-J', '-d', '-o', 'FSTYPE,UUID,LABEL,SERIAL', device.node]);
  const noted = answer.outcome === 'ran' && answer.exitCode === 0 ? parseLsblk(answer.output) : nothing;
  return {
    ...noted,
    uuid: linkTo(device.name, '/dev/disk/by-uuid') ?? noted.uuid,
    label: linkTo(device.name, '/dev/disk/by-label') ?? noted.label,
  };
}

const nothing: UdevFacts = { format: null, uuid: null, label: null, serial: null };

/** The facts of the one device in what `lsblk -J` printed. */
export function parseLsblk(output: string): UdevFacts {
  const [device] = devicesIn(output);
  const read = (name: string): string | null => {
    const value = device?.[name];
    return typeof value === 'string' && value !== '' ? value : null;
  };
  return { format: read('fstype'), uuid: read('uuid'), label: read('label'), serial: read('serial') };
}

function devicesIn(output: string): readonly Record<string, unknown>[] {
  try {
    // The shape is lsblk's own; whatever is not a string is dropped by the reader above.
    return (JSON.parse(output) as { blockdevices?: Record<string, unknown>[] }).blockdevices ?? [];
  } catch {
    return [];
  }
}

function linkTo(name: string, folder: string): string | null {
  try {
    const link = readdirSync(folder).find((entry) => basename(readlinkSync(join(folder, entry))) === name);
    return link === undefined ? null : decodeUdev(link);
  } catch {
    // No udev, or a link that went away between the two calls: then there is no note.
    return null;
  }
}
