import { deliveryId, type Delivery } from './delivery.ts';
import type { JournalLine } from './journal-line.ts';

/** What the lines of a journal come to. */
export class JournalState {
  /** Of the journal itself; empty before its first line. */
  id = '';
  /** The last event that was looked at, or null. */
  event: string | null = null;
  readonly threads = new Map<string, { readonly matter: string; readonly number: number }>();
  /** By id, in the order in which they were decided. */
  readonly deliveries = new Map<string, Delivery>();
  readonly #letters = new Map<string, readonly string[]>();

  /** Takes one more line in. */
  apply(line: JournalLine): void {
    if ('event' in line && line.event !== null) this.event = line.event;
    switch (line.line) {
      case 'born':
        this.id = line.id;
        return;
      case 'moved':
        this.threads.set(line.thread, { matter: line.matter, number: line.number });
        return;
      case 'told':
        this.#tell(line);
        return;
      case 'gathered':
        this.#letters.set(line.letter, line.deliveries);
        for (const id of line.deliveries) this.#change(id, { letter: line.letter, state: 'due' });
        return;
      case 'tried':
        for (const delivery of this.inLetter(line.letter)) {
          const failure = { code: line.code, sentence: line.why, at: line.at };
          this.#change(delivery.id, { tries: delivery.tries + 1, failure });
        }
        return;
      case 'settled':
        for (const { id, tries } of this.inLetter(line.letter)) {
          this.#change(id, { state: line.as, settledAt: line.at, tries: line.as === 'sent' ? tries + 1 : tries });
        }
    }
  }

  /** The deliveries that go out under one key. */
  inLetter(letter: string): readonly Delivery[] {
    return (this.#letters.get(letter) ?? [letter]).flatMap((id) => this.deliveries.get(id) ?? []);
  }

  #tell({ thread, matter, number, message, to }: Extract<JournalLine, { line: 'told' }>): void {
    this.threads.set(thread, { matter, number });
    for (const { channel, dueAt } of to) {
      const id = deliveryId(this.id, { thread, number, channel });
      const state = dueAt === null ? 'due' : 'waiting';
      this.deliveries.set(id, {
        id,
        channel,
        letter: id,
        thread,
        number,
        message,
        state,
        dueAt,
        tries: 0,
        failure: null,
        settledAt: null,
      });
    }
  }

  #change(id: string, change: Partial<Delivery>): void {
    const delivery = this.deliveries.get(id);
    if (delivery !== undefined) this.deliveries.set(id, { ...delivery, ...change });
  }
}
