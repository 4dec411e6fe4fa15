import type { VolumeIdentity } from '@quayside/shoot';

/** One short phrase by which an operator knows a volume: `"WHEEL" (exfat, 64 GB, 7F1F-EC70)`. Sizes as on the drive's box: powers of ten. */
export function describeIdentity(identity: VolumeIdentity): string {
  const name = identity.label ? `"${identity.label.replaceAll(/\p{Cc}/gu, '?')}"` : 'unlabelled volume';
  if (identity.basis === 'folder') return `${name} (folder)`;
  const size = identity.sizeInBytes > 0 ? [tellSize(identity.sizeInBytes)] : [];
  return `${name} (${[identity.fileSystem, ...size, tellBasis(identity)].join(', ')})`;
}

function tellBasis(identity: VolumeIdentity): string {
  if (identity.uuid) return identity.uuid;
  return identity.basis === 'serial' && identity.serial ? `drive ${identity.serial}` : 'no UUID';
}

function tellSize(sizeInBytes: number): string {
  let power = 0;
  let amount = sizeInBytes;
  // At 999.5 the rounded number would read 1000.
  while (amount >= 999.5 && power < UNITS.length - 1) {
    amount /= 1000;
    power += 1;
  }
  return `${power > 0 && amount < 9.95 ? amount.toFixed(1) : Math.round(amount)} ${UNITS[power]}`;
}

const UNITS = ['B', 'kB', 'MB', 'GB', 'TB', 'PB'];
