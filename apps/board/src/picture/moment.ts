/** One moment by two clocks, in milliseconds: `wall` may be set back, `steady` may stand still while the computer sleeps. */
export interface Moment {
  readonly wall: number;
  readonly steady: number;
}

/** How long ago it was by the clock that says more: of two ages, the page believes the older one. Never negative. */
export function ageMs(then: Moment, now: Moment): number {
  return Math.max(now.wall - then.wall, now.steady - then.steady, 0);
}
