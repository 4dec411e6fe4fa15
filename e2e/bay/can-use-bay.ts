import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { failureOf } from '@quayside/shoot';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { makeDrive } from '../drives/make-drive.ts';
import { BayDrive } from './bay-drive.ts';

export interface BayAbility {
  readonly ok: boolean;
  /** Why the bay cannot be used here, empty when it can. */
  readonly reason: string;
  /** Whether it takes exFAT drives, too. */
  readonly exfat: boolean;
}

/** Whether the virtual bay works here, found out by using it. The answer is kept for the life of the process. */
export function canUseBay(): Promise<BayAbility> {
  ability ??= findOut();
  return ability;
}

let ability: Promise<BayAbility> | undefined;

async function findOut(): Promise<BayAbility> {
  const { ok, reason, exfat } = await canMountDrives();
  if (!ok) return { ok, reason, exfat: false };
  const folder = await mkdtemp(join(tmpdir(), 'quayside-bay-'));
  try {
    const image = join(folder, 'image');
    await using drive = await makeDrive({ image, fileSystem: 'ext4', label: 'TRIAL', sizeInBytes: 8 * 1024 * 1024 });
    const order = { drive, readOnly: false, manner: 'keeps writes until a flush' } as const;
    await using inserted = await BayDrive.insert({ ...order, path: join(folder, 'slot'), folder: join(folder, 'bay') });
    await readFile(join(inserted.path, 'nothing')).catch(() => undefined);
    return { ok: true, reason: '', exfat };
  } catch (error) {
    return { ok: false, reason: failureOf(error).sentence, exfat: false };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
