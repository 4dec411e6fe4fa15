import { createHash } from 'node:crypto';
import type { VolumeIdentity } from '@quayside/shoot';

/** What could be found out about a volume; null for what could not. */
export interface VolumeFacts {
  /** The format, not the driver: `exfat` however it is mounted. */
  readonly fileSystem: string;
  readonly uuid: string | null;
  readonly serial: string | null;
  readonly label: string | null;
  readonly sizeInBytes: number;
}

/**
 * The identity that these facts make. The key depends on all that the volume itself carries, and on the hardware's serial only
 * where there is no UUID: the serial is often the card reader's, and a card must stay itself in another reader.
 */
export function identityFrom(facts: VolumeFacts): VolumeIdentity {
  const uuid = facts.uuid && !isBlank(facts.uuid) ? facts.uuid : null;
  const { fileSystem, serial, label, sizeInBytes } = facts;
  const parts = [fileSystem, uuid?.toLowerCase() ?? null, uuid ? null : serial, sizeInBytes, label];
  const basis = uuid ? 'uuid' : serial && label ? 'serial' : 'label';
  return { key: keyFrom(parts), basis, uuid, serial, label, fileSystem, sizeInBytes };
}

/** A short key from any facts: 80 bits of SHA-256, so that two volumes of a studio do not meet by chance. */
export function keyFrom(parts: readonly (string | number | null)[]): string {
  return createHash('sha256').update(JSON.stringify(parts)).digest('hex').slice(0, 20);
}

/** All zeros or all ones: what formatters write that set none. Any number of volumes share it. */
function isBlank(uuid: string): boolean {
  return /^(?:[0-]+|[f-]+)$/i.test(uuid);
}
