/** Lets a loop sleep until its next turn or until someone rings. A ring while nobody sleeps ends the next sleep at once. */
export class Alarm {
  #wake: (() => void) | null = null;
  #hasRung = false;

  ring(): void {
    this.#hasRung = true;
    this.#wake?.();
  }

  async sleep(ms: number): Promise<void> {
    if (!this.#hasRung) {
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, ms);
        this.#wake = () => {
          clearTimeout(timer);
          resolve();
        };
      });
    }
    this.#wake = null;
    this.#hasRung = false;
  }
}
