import { askTool } from '../ask-tool.ts';
import { type DiskutilInfo, parseDiskutilInfo } from './parse-diskutil-info.ts';

/** What macOS knows of a mounted volume, or null when it does not answer. Not run on a Mac. */
export async function askDiskutil(mountPath: string): Promise<DiskutilInfo | null> {
  const answer = await askTool('diskutil', ['info', '-plist', mountPath]);
  return answer.outcome === 'ran' && answer.exitCode === 0 ? parseDiskutilInfo(answer.output) : null;
}
