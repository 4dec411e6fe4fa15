import type { RunLog, RunLogLine } from '@quayside/shoot';

const HEAD_LINES = 200;
const TAIL_LINES = 200;
const LONGEST_LINE = 2000;

/** Keeps the beginning and the end of what a run says, however much it says. */
export class BoundedLog {
  readonly #head: RunLogLine[] = [];
  #tail: RunLogLine[] = [];
  #dropped = 0;

  add(level: RunLogLine['level'], text: string): void {
    const line = { at: new Date().toISOString(), level, text: printable(text) };
    if (this.#head.length < HEAD_LINES) return void this.#head.push(line);
    this.#tail.push(line);
    if (this.#tail.length < 2 * TAIL_LINES) return;
    this.#dropped += this.#tail.length - TAIL_LINES;
    this.#tail = this.#tail.slice(-TAIL_LINES);
  }

  kept(): RunLog {
    const surplus = Math.max(0, this.#tail.length - TAIL_LINES);
    return { head: [...this.#head], droppedLines: this.#dropped + surplus, tail: this.#tail.slice(surplus) };
  }
}

// A terminal acts on control characters, and a log is read on one.
function printable(text: string): string {
  return text.slice(0, LONGEST_LINE).replaceAll(/[\p{Cc}\p{Cs}]/gu, '\u{FFFD}');
}
