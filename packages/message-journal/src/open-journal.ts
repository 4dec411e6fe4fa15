import { randomBytes } from 'node:crypto';
import type { Addressee, Telling, Waiting } from '@quayside/messages';
import type { Instant } from '@quayside/shoot';
import { compactLines } from './compact-lines.ts';
import { letterId, type Delivery } from './delivery.ts';
import type { JournalLine } from './journal-line.ts';
import { JournalState } from './journal-state.ts';
import { openLineFile } from './line-file.ts';

/**
 * The record of what is to be told, to which channels, and what came of it: a file of lines that is synced before a promise
 * settles, outside Redis because Redis may be lost. One process writes it.
 */
export interface MessageJournal {
  /** The last event of the stream that came to something, or null. */
  event(): string | null;
  /**
   * Takes in what came up. False when its thread stands at that matter already: people were told, or will be. A newer
   * matter takes the place of older ones of its thread that still wait for the same channel.
   */
  accept(
    telling: Telling,
    route: (waiting: Waiting) => readonly Addressee[],
    at: { readonly now: Instant; readonly event: string | null },
  ): Promise<boolean>;
  /** Makes letters of what has waited long enough: one for each channel. */
  gather(now: Instant): Promise<void>;
  /** When the next thing that waits is due, or null. */
  nextDue(): Instant | null;
  /** The keys of the letters that are to be sent, oldest first, with their channels. */
  toSend(): readonly { readonly letter: string; readonly channel: string }[];
  /** What a letter is to say now: without what was overtaken since. Empty when there is nothing left, or it is settled. */
  contentOf(letter: string): readonly Delivery[];
  noteTry(
    letter: string,
    failure: { readonly at: Instant; readonly code: string; readonly why: string },
  ): Promise<void>;
  settle(letter: string, as: 'sent' | 'given-up' | 'superseded', at: Instant): Promise<void>;
  close(): Promise<void>;
}

/** Opens a journal, or begins it. Lines that a crash tore are passed over; one that has grown long is cut down. */
export async function openJournal(path: string): Promise<MessageJournal> {
  const state = new JournalState();
  const file = await openLineFile(path, (lines) => compactLines(lines));
  for (const line of file.lines) state.apply(line);
  // In turn: what is decided depends on what was decided before.
  let turn: Promise<unknown> = Promise.resolve();
  const inTurn = <Answer>(work: () => Promise<Answer>): Promise<Answer> => {
    const done = turn.then(work, work);
    turn = done.catch(() => undefined);
    return done;
  };
  const write = async (lines: readonly JournalLine[]): Promise<void> => {
    if (lines.length === 0) return;
    // Taken in only when it is on disk, so that nothing is sent that a crash would have sent again under another key.
    await file.append(lines);
    for (const line of lines) state.apply(line);
  };
  if (state.id === '') await write([{ line: 'born', id: randomBytes(9).toString('hex'), event: null }]);

  return {
    event: () => state.event,
    accept: (telling, route, { now, event }) =>
      inTurn(async () => {
        const lines = linesFor(state, telling, { route, event });
        await write([...lines, ...overtakenBy(state, lines, now)]);
        return lines.length > 0;
      }),
    gather: (now) => inTurn(async () => write(gatheredLines(state, now))),
    nextDue: () =>
      waitingIn(state)
        .map(({ dueAt }) => dueAt ?? '')
        .toSorted()[0] ?? null,
    toSend: () => {
      const due = [...state.deliveries.values()].filter((delivery) => delivery.state === 'due');
      return [...new Map(due.map(({ letter, channel }) => [letter, { letter, channel }])).values()];
    },
    contentOf: (letter) =>
      state.inLetter(letter).filter((delivery) => delivery.state === 'due' && !isOvertaken(state, delivery)),
    noteTry: (letter, failure) => inTurn(async () => write([{ line: 'tried', letter, ...failure }])),
    settle: (letter, as, at) =>
      inTurn(async () => {
        if (state.inLetter(letter).some((delivery) => delivery.settledAt === null))
          await write([{ line: 'settled', letter, at, as }]);
      }),
    close: async () => {
      await turn;
      await file.close();
    },
  };
}

function linesFor(
  state: JournalState,
  telling: Telling,
  { route, event }: { readonly route: (waiting: Waiting) => readonly Addressee[]; readonly event: string | null },
): readonly JournalLine[] {
  const { thread, matter } = telling;
  const known = state.threads.get(thread) ?? { matter: '', number: 0 };
  if (telling.message === null) {
    // Matters of verdicts carry what the drive held behind an @.
    if (known.matter.split('@')[0] !== telling.from) return [];
    return [{ line: 'moved', thread, matter, number: known.number, event }];
  }
  if (known.matter === matter) return [];
  const to = route(nextByChannel(state));
  return [{ line: 'told', thread, matter, number: known.number + 1, message: telling.message, to: [...to], event }];
}

function nextByChannel(state: JournalState): Waiting {
  const next: Record<string, Instant> = {};
  for (const { channel, dueAt } of waitingIn(state)) {
    const known = next[channel];
    if (dueAt !== null && (known === undefined || dueAt < known)) next[channel] = dueAt;
  }
  return next;
}

/** What waits in the thread of a new message for the channels that it goes to is told no more. */
function overtakenBy(state: JournalState, lines: readonly JournalLine[], now: Instant): readonly JournalLine[] {
  const [told] = lines;
  if (told?.line !== 'told') return [];
  const channels = new Set(told.to.map(({ channel }) => channel));
  return waitingIn(state)
    .filter(({ thread, channel }) => thread === told.thread && channels.has(channel))
    .map(({ id }) => ({ line: 'settled', letter: id, at: now, as: 'superseded' }));
}

function gatheredLines(state: JournalState, now: Instant): readonly JournalLine[] {
  const due = waitingIn(state).filter(({ dueAt }) => dueAt !== null && dueAt <= now);
  return [...Map.groupBy(due, ({ channel }) => channel).values()].map((deliveries) => {
    const ids = deliveries.map(({ id }) => id);
    return { line: 'gathered', letter: letterId(ids), deliveries: ids };
  });
}

function waitingIn(state: JournalState): readonly Delivery[] {
  return [...state.deliveries.values()].filter((delivery) => delivery.state === 'waiting');
}

function isOvertaken(state: JournalState, { thread, number, channel }: Delivery): boolean {
  const newest = state.threads.get(thread)?.number ?? number;
  if (newest === number) return false;
  return [...state.deliveries.values()].some(
    (other) => other.thread === thread && other.channel === channel && other.number > number,
  );
}
