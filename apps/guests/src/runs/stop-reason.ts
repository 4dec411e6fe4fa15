/** Why a run that is under way is stopped, and how it stands then: `waiting` is made again by itself. */
export class StopReason {
  readonly state: 'cancelled' | 'waiting';
  readonly why: string;

  constructor(state: StopReason['state'], why: string) {
    this.state = state;
    this.why = why;
  }
}
