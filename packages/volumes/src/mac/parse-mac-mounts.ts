/** One line of macOS' `mount`. The device number is not in it. */
export interface MacMount {
  readonly source: string;
  readonly path: string;
  readonly fileSystem: string;
  readonly readOnly: boolean;
}

/**
 * The mounts in what macOS' `mount` prints: `/dev/disk4s1 on /Volumes/WHEEL (exfat, local, nodev)`. A volume's name may hold
 * ` on ` and brackets, so the first ` on /` and the last bracket decide. Written from memory, not run on a Mac.
 */
export function parseMacMounts(text: string): readonly MacMount[] {
  return text.split('\n').flatMap((line) => {
    const [, source, path, options] = /^(.+?) on (\/.*) \(([^()]*)\)$/.exec(line) ?? [];
    if (!source || !path || !options) return [];
    const [fileSystem = '', ...flags] = options.split(', ');
    return [{ source, path, fileSystem, readOnly: flags.includes('read-only') }];
  });
}
