/** Holds up the runs that are given it, and lets them go on. */
export class PauseSwitch {
  #isOn = false;
  readonly #told = new Set<(isOn: boolean) => void>();

  get isOn(): boolean {
    return this.#isOn;
  }

  turn(isOn: boolean): void {
    if (isOn === this.#isOn) return;
    this.#isOn = isOn;
    for (const tell of this.#told) tell(isOn);
  }

  /** Tells how it stands, now and at every change, until what it returns is called. */
  watch(tell: (isOn: boolean) => void): () => void {
    this.#told.add(tell);
    if (this.#isOn) tell(true);
    return () => void this.#told.delete(tell);
  }
}
