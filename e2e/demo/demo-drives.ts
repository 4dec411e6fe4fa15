import { cp, mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { writeFolderVolumeMarker } from '@quayside/volumes';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { makeDrive, type FileSystem } from '../drives/make-drive.ts';
import { mountDrive, unmountDrive, type MountedDrive } from '../drives/mount-drive.ts';
import { runTool } from '../drives/run-tool.ts';
import type { Recording } from '../media/make-pottery-class.ts';

export interface DemoDrives {
  readonly bay: string;
  readonly areFolders: boolean;
  readonly sentence: string;
  unplug(): Promise<void>;
}

const DRIVE_BYTES = 2 ** 28;

/** Lays each recording on a drive of its own and plugs them all: real file systems where the rights allow, else folders. */
export async function plugDrives({
  recordings,
  folder,
}: {
  readonly recordings: readonly Recording[];
  readonly folder: string;
}): Promise<DemoDrives> {
  const bay = join(folder, 'drives');
  await mkdir(bay, { recursive: true });
  const ability = await canMountDrives();
  if (!ability.ok) return layFolders(recordings, { bay, reason: ability.reason });
  const fileSystem: FileSystem = ability.exfat ? 'exfat' : 'ext4';
  const mounted: MountedDrive[] = [];
  for (const { name, folder: recorded, role } of recordings) {
    const drive = await makeDrive({
      image: join(folder, `${name}.image`),
      fileSystem: role === 'sound' ? 'ext4' : fileSystem,
      label: name.toUpperCase(),
      sizeInBytes: DRIVE_BYTES,
    });
    const recording = await mountDrive(drive, join(folder, 'recording', name));
    await cp(recorded, recording.path, { recursive: true, preserveTimestamps: true });
    await unmountDrive(recording);
    mounted.push(await mountDrive(drive, join(bay, name), { readOnly: true }));
  }
  return {
    bay,
    areFolders: false,
    sentence: `Plugged ${mounted.length} drives: loop-mounted ${fileSystem === 'exfat' ? 'exFAT for the cameras, ext4 for the sound' : 'ext4 (no exFAT tools here)'}.`,
    async unplug() {
      for (const drive of mounted) await unmountDrive(drive);
    },
  };
}

async function layFolders(
  recordings: readonly Recording[],
  { bay, reason }: { readonly bay: string; readonly reason: string },
): Promise<DemoDrives> {
  for (const { name, folder } of recordings) {
    await cp(folder, join(bay, name), { recursive: true, preserveTimestamps: true });
    await writeFolderVolumeMarker(join(bay, name), { label: name.toUpperCase() });
  }
  return {
    bay,
    areFolders: true,
    sentence: `Plugged ${recordings.length} plain folders with a volume marker instead of drives (${reason}).`,
    async unplug() {},
  };
}

/** Unmounts what a demo that was killed has left mounted. */
export async function clearLeftOvers(bay: string): Promise<void> {
  const table = await readFile('/proc/self/mountinfo', 'utf8').catch(() => '');
  const left = table
    .split('\n')
    .map((line) => line.split(' ')[4] ?? '')
    .filter((path) => path.startsWith(bay));
  for (const path of left) await runTool('umount', '--lazy', path);
}
