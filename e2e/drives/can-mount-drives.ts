import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { failureOf } from '@quayside/shoot';
import type { FileSystem } from './make-drive.ts';
import { makeDrive } from './make-drive.ts';
import { mountDrive } from './mount-drive.ts';

export interface MountingAbility {
  /** Whether ext4 drives can be made and mounted. */
  readonly ok: boolean;
  /** Why not, or what is lacking; empty when all is there. */
  readonly reason: string;
  /** Whether exFAT drives can, too. */
  readonly exfat: boolean;
}

/** Whether drives can be made and mounted here, found out by doing it. The answer is kept for the life of the process. */
export function canMountDrives(): Promise<MountingAbility> {
  ability ??= findOut();
  return ability;
}

let ability: Promise<MountingAbility> | undefined;

async function findOut(): Promise<MountingAbility> {
  if (process.platform !== 'linux')
    return { ok: false, reason: 'drives are mounted in tests on Linux only', exfat: false };
  if (process.getuid?.() !== 0) return { ok: false, reason: 'mounting drives needs root', exfat: false };
  const [ext4, exfat] = [await whyNot('ext4'), await whyNot('exfat')];
  return { ok: ext4 === null, reason: ext4 ?? exfat ?? '', exfat: exfat === null };
}

async function whyNot(fileSystem: FileSystem): Promise<string | null> {
  const folder = await mkdtemp(join(tmpdir(), 'quayside-mounting-'));
  try {
    await using drive = await makeDrive({
      image: join(folder, 'image'),
      fileSystem,
      label: 'TRIAL',
      sizeInBytes: 8 * 1024 * 1024,
    });
    await using mounted = await mountDrive(drive, join(folder, 'mount'));
    await writeFile(join(mounted.path, 'trial'), '');
    return null;
  } catch (error) {
    return failureOf(error).sentence;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
