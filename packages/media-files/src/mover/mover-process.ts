import { failureOf, QuaysideError } from '@quayside/shoot';
import { copyParcel } from '../copy/copy-parcel.ts';
import { createDestinationMemory } from '../destination/destination-memory.ts';
import { createLedgerReader, type LedgerReader } from '../ledger/read-ledger.ts';
import type { WorkControls } from '@quayside/step-sdk/built-in';
import { readBackParcel } from '../read-back/read-back-parcel.ts';
import { recopyParcel } from '../recopy/recopy-parcel.ts';
import { isAllUnreadable } from '../source/is-all-unreadable.ts';
import { createSourceOpener } from '../source/open-source.ts';
import { createWorkbench } from '../workbench/workbench.ts';
import { type Answer, Order } from './mover-messages.ts';
import { thinOut } from './thin-out.ts';

// The entry of a mover: the throw-away process in which bytes move. It does one piece of work at a time, ends with its
// parent, and may be killed at any moment: whatever it leaves, the next run repairs.

const PROGRESS_EVERY_MS = 200;

const workbench = createWorkbench();
const memory = createDestinationMemory();
const ledgers = new Map<string, LedgerReader>();
let stop = new AbortController();

// A terminal's Ctrl-C reaches children too; when to end is the parent's decision.
process.on('SIGINT', () => undefined);
process.on('SIGTERM', () => undefined);
process.on('disconnect', () => process.exit());
process.on('message', (message: unknown) => {
  const order = Order.parse(message);
  if (order.kind === 'stop') stop.abort(stopped());
  else void carryOut(order);
});

async function carryOut(order: Exclude<Order, { kind: 'stop' }>): Promise<void> {
  stop = new AbortController();
  const progress = thinOut(PROGRESS_EVERY_MS, (bytes) => answer({ kind: 'bytes', bytes }));
  const controls = { signal: stop.signal, onBytes: progress.add };
  try {
    const done = await answerTo(order, controls);
    progress.flush();
    answer(done);
  } catch (error) {
    progress.flush();
    answer({ kind: 'failed', failure: failureOf(error) });
  }
}

async function answerTo(order: Exclude<Order, { kind: 'stop' }>, controls: WorkControls): Promise<Answer> {
  switch (order.kind) {
    case 'copy':
      return { kind: 'copied', outcomes: await copyParcel(order.request, controls, { workbench, memory }) };
    case 'recopy':
      return { kind: 'recopied', ...(await recopyParcel(order.request, controls, { workbench, memory })) };
    case 'ask': {
      const { mount } = order;
      return { kind: 'asked', isAnswering: !(await isAllUnreadable(mount, createSourceOpener(mount).openSource)) };
    }
    case 'readBack':
      return { kind: 'readBack', outcomes: await readBackParcel(order.request, controls, { workbench, ledgerAt }) };
  }
}

function ledgerAt(root: string, rollId: string): LedgerReader {
  const key = `${rollId} ${root}`;
  const reader = ledgers.get(key) ?? createLedgerReader(root, rollId);
  ledgers.set(key, reader);
  return reader;
}

function answer(message: Answer): void {
  process.send?.(message);
}

function stopped(): QuaysideError {
  return new QuaysideError({
    code: 'WORK_STOPPED',
    sentence: 'The work was stopped before its end; what was done so far is recorded and the rest is done next time.',
    retry: 'later',
  });
}
