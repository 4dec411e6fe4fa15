/** The format that a driver's name stands for, so that one volume under two drivers is one. `fuseblk` may be any. */
export function formatOf(driver: string): string {
  const name = driver.replace(/^fuse\./, '');
  return formats.get(name) ?? name;
}

const formats = new Map([
  ['exfat-fuse', 'exfat'],
  ['texfat', 'exfat'],
  ['ntfs3', 'ntfs'],
  ['ntfs-3g', 'ntfs'],
  ['ufsd', 'ntfs'],
  ['msdos', 'vfat'],
  ['lowntfs-3g', 'ntfs'],
]);
