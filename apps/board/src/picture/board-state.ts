import type { RollAnswer } from '@quayside/admin-api/page-answers';
import type { ServiceEvent } from '@quayside/api-client';
import type { Shoot, ShootLook } from '../service/look-at-shoot.ts';
import type { DriveLook, Link } from './drive-look.ts';

/** All that the page knows. What it says is worked out from this and the time alone. */
export interface BoardState {
  readonly access: 'asking' | 'signed-out' | 'signed-in';
  readonly link: Link;
  readonly drives: DriveLook | null;
  readonly shoots: readonly Shoot[];
  /** The shoot that a person has chosen; without a choice the newest is shown. */
  readonly chosen: string | null;
  readonly shoot: ShootLook | null;
  /** Why the shoot could not be looked at last, or null. */
  readonly shootTrouble: string | null;
  /** The newest first. */
  readonly messages: readonly ServiceEvent[];
}

export const NOTHING_KNOWN: BoardState = {
  access: 'asking',
  link: { state: 'connecting' },
  drives: null,
  shoots: [],
  chosen: null,
  shoot: null,
  shootTrouble: null,
  messages: [],
};

/** Rolls of an earlier look whose drives were away, to be shown until the next full look; none before the first look. */
export function rollsAway({ drives }: BoardState): readonly RollAnswer[] {
  return drives?.rolls.filter(({ drivePresent }) => !drivePresent) ?? [];
}
