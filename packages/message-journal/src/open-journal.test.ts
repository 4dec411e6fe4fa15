import { appendFile, mkdtemp, readFile, rm, stat, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Addressee, sampleMessage, type Telling } from '@quayside/messages';
import fc from 'fast-check';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { compactLines } from './compact-lines.ts';
import { JournalState } from './journal-state.ts';
import { parseLines } from './line-file.ts';
import { type MessageJournal, openJournal } from './open-journal.ts';
import { deliveryReader } from './read-deliveries.ts';

const NOW = '2026-03-01T10:00:00.000Z';
const LATER = '2026-03-01T10:10:00.000Z';
let folder: string;
let path: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-journal-'));
  path = join(folder, 'data', 'messages.jsonl');
});
afterEach(async () => rm(folder, { recursive: true }));

function verdict(matter: string, thread = 'roll/wheel-1'): Telling {
  return { thread, matter, message: sampleMessage(matter === 'clear' ? 'roll.clear' : 'roll.hold', NOW) };
}

async function accept(
  journal: MessageJournal,
  telling: Telling,
  { to = [{ channel: 'hook', dueAt: null }], event = null }: { to?: readonly Addressee[]; event?: string | null } = {},
): Promise<boolean> {
  return journal.accept(telling, () => to, { now: NOW, event });
}

const held = (channel = 'mail', dueAt = LATER): Addressee => ({ channel, dueAt });

it('tells a matter once, also after a restart, and again when another one came in between', async () => {
  const journal = await openJournal(path);
  expect(await accept(journal, verdict('clear'))).toBe(true);
  expect(await accept(journal, verdict('clear'))).toBe(false);
  await journal.close();
  const again = await openJournal(path);
  expect(await accept(again, verdict('clear'))).toBe(false);
  expect(await accept(again, verdict('hold'))).toBe(true);
  expect(await accept(again, verdict('clear'))).toBe(true);
  expect(again.toSend()).toHaveLength(3);
  expect(new Set(again.toSend().map(({ letter }) => letter)).size).toBe(3);
  await again.close();
});

it('keeps the key of a letter over restarts, and what came of it', async () => {
  const journal = await openJournal(path);
  await accept(journal, verdict('clear'), {
    to: [
      { channel: 'hook', dueAt: null },
      { channel: 'mail', dueAt: null },
    ],
  });
  const [first, second] = journal.toSend();
  await journal.noteTry(first?.letter ?? '', { at: NOW, code: 'CHANNEL_REFUSED', why: 'It answered 500.' });
  await journal.settle(second?.letter ?? '', 'sent', LATER);
  await journal.close();
  const again = await openJournal(path);
  expect(again.toSend()).toEqual([first]);
  expect(again.contentOf(first?.letter ?? '')).toMatchObject([{ channel: 'hook', tries: 1 }]);
  expect(again.contentOf(second?.letter ?? '')).toEqual([]);
  await again.close();
});

it('a thread that moved on without a message tells the same matter again; from elsewhere it does not move', async () => {
  const journal = await openJournal(path);
  const seen: Telling = { thread: 'drive/a', matter: 'seen', message: sampleMessage('drive.seen', NOW) };
  const gone: Telling = { thread: 'drive/a', matter: 'gone', message: null, from: 'seen' };
  expect(await accept(journal, gone)).toBe(false);
  expect(await accept(journal, seen)).toBe(true);
  expect(await accept(journal, gone, { event: '7-0' })).toBe(true);
  expect(await accept(journal, gone)).toBe(false);
  expect(await accept(journal, seen)).toBe(true);
  expect(journal.event()).toBe('7-0');
  await journal.close();
});

it('gathers what has waited long enough into one letter for each channel, and leaves what is not due', async () => {
  const journal = await openJournal(path);
  await accept(journal, verdict('clear', 'roll/a'), { to: [held(), held('hook')] });
  await accept(journal, verdict('clear', 'roll/b'), { to: [held()] });
  await accept(journal, verdict('clear', 'roll/c'), { to: [held('mail', '2026-03-02T07:00:00.000Z')] });
  expect(journal.toSend()).toEqual([]);
  expect(journal.nextDue()).toBe(LATER);
  await journal.gather(LATER);
  const letters = journal.toSend();
  expect(letters.map(({ channel }) => channel)).toEqual(['mail', 'hook']);
  expect(journal.contentOf(letters[0]?.letter ?? '')).toHaveLength(2);
  expect(journal.nextDue()).toBe('2026-03-02T07:00:00.000Z');
  await journal.close();
});

it('what is overtaken while it waits is not told: the newest of its thread is', async () => {
  const journal = await openJournal(path);
  await accept(journal, verdict('clear'), { to: [held()] });
  await accept(journal, verdict('hold'), { to: [held()] });
  await journal.gather(LATER);
  const [letter] = journal.toSend();
  expect(journal.contentOf(letter?.letter ?? '').map(({ message }) => message.kind)).toEqual(['roll.hold']);
  expect((await deliveryReader(path)()).map(({ state }) => state)).toEqual(['superseded', 'due']);
  await journal.close();
});

it('a letter that is tried for long says no more what a newer one for the same channel overtook', async () => {
  const journal = await openJournal(path);
  await accept(journal, verdict('clear'));
  const [clear] = journal.toSend();
  await accept(journal, verdict('hold'), { to: [{ channel: 'mail', dueAt: null }] });
  expect(journal.contentOf(clear?.letter ?? '')).toHaveLength(1);
  await accept(journal, verdict('clear'));
  expect(journal.contentOf(clear?.letter ?? '')).toEqual([]);
  await journal.close();
});

it('a journal begun anew gives other keys for the same matters', async () => {
  const letters: string[] = [];
  for (const name of ['one', 'other']) {
    const journal = await openJournal(join(folder, name));
    await accept(journal, verdict('clear'));
    letters.push(journal.toSend()[0]?.letter ?? '');
    await journal.close();
  }
  expect(new Set(letters).size).toBe(2);
});

it('is for its owner only, and outlives a line that a crash tore, wherever it was cut', async () => {
  const journal = await openJournal(path);
  await accept(journal, verdict('clear', 'roll/a'));
  const whole = (await stat(path)).size;
  await accept(journal, verdict('clear', 'roll/b'));
  await journal.close();
  expect((await stat(path)).mode & 0o777).toBe(0o600);
  const bytes = await readFile(path);
  for (let size = whole; size < bytes.length; size += 97) {
    await writeFile(path, bytes);
    await truncate(path, size);
    const cut = await openJournal(path);
    expect(await accept(cut, verdict('clear', 'roll/a'))).toBe(false);
    expect(await accept(cut, verdict('clear', 'roll/b'))).toBe(true);
    await cut.close();
  }
});

it('a reader beside the writer sees each change, and bears a half-written line and a journal begun anew', async () => {
  const read = deliveryReader(path);
  expect(await read()).toEqual([]);
  const journal = await openJournal(path);
  await accept(journal, verdict('clear'));
  expect((await read()).map(({ state }) => state)).toEqual(['due']);
  await journal.settle(journal.toSend()[0]?.letter ?? '', 'sent', NOW);
  await appendFile(path, '\n{"line":"told"');
  expect((await read()).map(({ state, tries }) => [state, tries])).toEqual([['sent', 1]]);
  await journal.close();
  await rm(path);
  const other = await openJournal(path);
  await accept(other, verdict('hold'));
  expect((await read()).map(({ state }) => state)).toEqual(['due']);
  await other.close();
});

it('cut down, it still knows where every thread stands, what is unsettled, and the newest deliveries', async () => {
  const step = fc.record({ thread: fc.nat(4), matter: fc.constantFrom('clear', 'hold'), isSettled: fc.boolean() });
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 12 }), async (steps) => {
      await rm(path, { force: true });
      const journal = await openJournal(path);
      for (const { thread, matter, isSettled } of steps) {
        const isNew = await accept(journal, verdict(matter, `roll/${thread}`));
        const last = journal.toSend().at(-1);
        if (isNew && isSettled && last !== undefined) await journal.settle(last.letter, 'sent', NOW);
      }
      await journal.close();
      const [before, after] = [new JournalState(), new JournalState()];
      const lines = parseLines(await readFile(path, 'utf8'));
      for (const line of lines) before.apply(line);
      for (const line of compactLines(lines, 0, 2)) after.apply(line);
      expect(after.id).toBe(before.id);
      expect(after.threads).toEqual(before.threads);
      const kept = [...before.deliveries.values()];
      const expected = kept.filter((one, index) => one.settledAt === null || index >= kept.length - 2);
      expect([...after.deliveries.values()]).toEqual(expected);
    }),
    { numRuns: 25 },
  );
});
