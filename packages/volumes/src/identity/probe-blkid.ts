import { askTool } from '../ask-tool.ts';
import { decodeUdev } from './decode-udev.ts';
import { formatOf } from './format-of.ts';

/** What a device says of the file system on it. */
export interface ProbedFileSystem {
  readonly format: string;
  readonly uuid: string | null;
  readonly label: string | null;
}

/** `nothing`: asked and found none, or no right to ask. `no answer`: worth asking again. */
export type Probe = ProbedFileSystem | 'nothing' | 'no answer';

/**
 * Asks `blkid` to read the device itself: its cache would still know what was there before a format. Where traces of an older
 * file system make it undecided, the one that is mounted counts.
 */
export async function probeBlkid(node: string, driver: string): Promise<Probe> {
  const first = await runBlkid([node]);
  if (first !== 'undecided') return first;
  const mounted = formatOf(driver);
  const candidates = mounted === 'fuseblk' ? ['exfat', 'ntfs', 'vfat'] : [mounted];
  for (const format of candidates) {
    const probe = await runBlkid(['-n', format, node]);
    if (probe !== 'nothing' && probe !== 'undecided') return probe;
  }
  return 'nothing';
}

async function runBlkid(args: readonly string[]): Promise<Probe | 'undecided'> {
  const answer = await askTool('blkid', ['-p', '-o', 'udev', ...args]);
  if (answer.outcome === 'hung') return 'no answer';
  if (answer.outcome === 'missing') return 'nothing';
  // blkid(8): 8 is an ambivalent probing result.
  if (answer.exitCode === 8) return 'undecided';
  return parseBlkid(answer.output) ?? 'nothing';
}

/** Reads what `blkid -o udev` prints; null when it names no file system. */
export function parseBlkid(output: string): ProbedFileSystem | null {
  const facts = new Map(
    output.split('\n').map((line) => {
      const equals = line.indexOf('=');
      return [line.slice(0, equals), line.slice(equals + 1)] as const;
    }),
  );
  const format = facts.get('ID_FS_TYPE');
  if (!format) return null;
  const read = (name: string): string | null => decodeUdev(facts.get(name) ?? '') || null;
  return { format, uuid: read('ID_FS_UUID_ENC'), label: read('ID_FS_LABEL_ENC') };
}
