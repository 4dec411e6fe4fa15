/**
 * How a recorder's timecode went its own way. `from-zero`: it began at zero while the others did not. `while-recording`: it
 * stood still between clips. `offset`: it ran, but by another amount.
 */
export type StrayKind = 'from-zero' | 'while-recording' | 'offset';

/** A recorder that did not follow the clock, and what was done about it. */
export interface StrayClock {
  readonly recorder: string;
  readonly kind: StrayKind;
  readonly clipIds: readonly string[];
  /**
   * `takes`: moved by one amount, under which its clips begin and end with the takes. `file-times`: placed by the dates of
   * its files. Null: neither fits, so its clips stand where their own timecode puts them.
   */
  readonly settledBy: 'takes' | 'file-times' | null;
  /** By how much its timecode was moved, when all of it by one amount. */
  readonly shiftTicks: number | null;
}
