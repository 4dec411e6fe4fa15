import type { HealthAnswer, RollAnswer, VolumeAnswer } from '@quayside/admin-api/page-answers';
import type { Moment } from './moment.ts';

/** Everything that a verdict rests on, from one look at the service. */
export interface DriveLook {
  /** When the look began: the picture is at least as old as this. */
  readonly begunAt: Moment;
  /** What the service's own clock said, in milliseconds; the time of a verdict is told by that clock. */
  readonly serviceMs: number;
  readonly health: HealthAnswer;
  /** The volumes that are connected. */
  readonly connected: readonly VolumeAnswer[];
  /** The rolls of those volumes, the newest ones, and those on hold. */
  readonly rolls: readonly RollAnswer[];
}

/** How the last look went. */
export type Link =
  | { readonly state: 'connecting' }
  | { readonly state: 'live' }
  | { readonly state: 'lost'; readonly sentence: string };
