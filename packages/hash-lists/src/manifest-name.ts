import type { Instant } from '@quayside/shoot';

/** The file name of a manifest: `NNNN_folder_YYYY-MM-DD_HHMMSSZ.mhl`, UTC at the operation's start (ASC MHL section 6.3). */
export function manifestName(generation: number, folderName: string, startedAt: Instant): string {
  const [date = '', time = ''] = new Date(startedAt).toISOString().split('T');
  const clock = time.slice(0, 8).replaceAll(':', '');
  return `${String(generation).padStart(4, '0')}_${folderName}_${date}_${clock}Z.mhl`;
}

/** The generation number in a manifest's name, or null for any other file. Also takes the older form without the `Z`. */
export function generationInName(name: string): number | null {
  const digits = /^(\d{4,})_.*_\d{4}-\d{2}-\d{2}_\d{6}Z?\.mhl$/s.exec(name)?.[1];
  return digits === undefined ? null : Number(digits);
}
