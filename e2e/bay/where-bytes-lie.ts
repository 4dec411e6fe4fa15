import { runTool } from '../drives/run-tool.ts';

export interface Place {
  /** Byte of the device. */
  readonly position: number;
  readonly lengthInBytes: number;
}

/** Where each piece of a file lies on its device, in the file's order, as e2fsprogs' filefrag(8) tells it. Only for ext4. */
export async function whereBytesLie(path: string): Promise<readonly Place[]> {
  // In units of 1024 bytes, the smallest block of ext4. `-s` makes what is not yet on the device go there.
  const text = await runTool('filefrag', '-s', '-b1024', '-v', path);
  return [...text.matchAll(/^\s*\d+:\s*\d+\.\.\s*\d+:\s*(\d+)\.\.\s*\d+:\s*(\d+):/gm)].map(([, from, count]) => ({
    position: Number(from) * 1024,
    lengthInBytes: Number(count) * 1024,
  }));
}
