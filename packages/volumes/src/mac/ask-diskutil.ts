import { askTool } from '../ask-tool.ts';
import type { DiskutilInfo } from './parse-diskutil-info.ts';

/** What macOS knows of a mounted volume, or null when it does not answer. Not run on a Mac. */
export async function askDiskutil(mountPath: string): Promise<DiskutilInfo | null> {
  const answer = await askTool('diskutil', ['info', '-plist', mountPath]);
  if (answer.outcome !== 'ran' || answer.exitCode !== 0) return null;
  // Not before here: its XML parser is a tenth of what a process on Linux would load at its start, for nothing.
  const { parseDiskutilInfo } = await import('./parse-diskutil-info.ts');
  return parseDiskutilInfo(answer.output);
}
