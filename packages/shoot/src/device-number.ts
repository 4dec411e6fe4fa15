/**
 * A `st_dev` or `st_rdev` as `major:minor`, the form in which `Mount.device` has it. Bits as glibc's gnu_dev_major(3)
 * packs them, or on macOS (`darwin`) as its sys/types.h does.
 */
export function deviceNumber(dev: number | bigint, platform: string): string {
  const bits = BigInt(dev);
  if (platform === 'darwin') return `${(bits >> 24n) & 0xffn}:${bits & 0xff_ffffn}`;
  const major = ((bits >> 8n) & 0xfffn) | ((bits >> 32n) & 0xffff_f000n);
  const minor = (bits & 0xffn) | ((bits >> 12n) & 0xffff_ff00n);
  return `${major}:${minor}`;
}
