import type { MountEntry } from './mount-entry.ts';

/** A mount as the kernel lists it, with the mount that it is attached to. */
export interface MountRecord extends MountEntry {
  readonly parentId: string;
}

/**
 * The mounts in a text of `/proc/self/mountinfo` (proc_pid_mountinfo(5)), in the kernel's order, covered ones included.
 * Lines that do not have the documented form are left out.
 */
export function parseMountinfo(text: string): readonly MountRecord[] {
  return text.split('\n').flatMap((line) => parseLine(line) ?? []);
}

function parseLine(line: string): MountRecord | null {
  const fields = line.split(' ');
  // The optional fields, of any number, end at a lone hyphen; the earliest place where it can stand is the seventh field.
  const separator = fields.indexOf('-', 6);
  if (separator === -1) return null;
  const [mountId, parentId, device, root, path, options] = fields;
  const [fileSystem, source, superOptions = ''] = fields.slice(separator + 1);
  if (!mountId || !parentId || !device || !root || !path || !options || !fileSystem || source === undefined)
    return null;
  return {
    path: unescapeOctal(path),
    mountId,
    parentId,
    device,
    root: unescapeOctal(root),
    fileSystem: unescapeOctal(fileSystem),
    source: unescapeOctal(source),
    readOnly: options.split(',').includes('ro') || superOptions.split(',').includes('ro'),
    serverAddress: /(?:^|,)addr=([^,]+)/.exec(superOptions)?.[1] ?? null,
  };
}

/** The kernel writes space, tab, newline, backslash and `#` as three octal digits; everything else stands as it is. */
function unescapeOctal(field: string): string {
  return field.replaceAll(/\\([0-7]{3})/g, (_, digits: string) => String.fromCharCode(Number.parseInt(digits, 8)));
}
