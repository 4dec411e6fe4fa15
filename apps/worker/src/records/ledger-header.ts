import { FolderName, Instant, RecorderRole, VolumeIdentity, type Roll } from '@quayside/shoot';
import { z } from 'zod';

/** The first line of a roll's ledger: enough to take the roll up again when the view in Redis is lost. */
export const LedgerHeader = z.object({
  rollId: FolderName,
  shootId: FolderName,
  recorder: FolderName,
  role: RecorderRole,
  volume: VolumeIdentity,
  openedAt: Instant,
});
export type LedgerHeader = z.output<typeof LedgerHeader>;

export function ledgerHeader(
  roll: Pick<Roll, 'id' | 'shootId' | 'recorder' | 'role' | 'volume'>,
  openedAt: Instant,
): LedgerHeader {
  return {
    rollId: roll.id,
    shootId: roll.shootId,
    recorder: roll.recorder,
    role: roll.role,
    volume: roll.volume,
    openedAt,
  };
}
