import { setTimeout as wait } from 'node:timers/promises';
import { join } from 'node:path';
import type { Configuration } from '@quayside/configuration';
import {
  openQueue,
  type QueueWorker,
  type RedisAddress,
  type RunQueue,
  type RunRules,
  type Store,
} from '@quayside/job-queue';
import { openJournal, type MessageJournal } from '@quayside/message-journal';
import { routeMessage, sampleMessage, tellingOfEvent, tellingOfVerdict } from '@quayside/messages';
import type { MessageSettings, RollMatter, Telling } from '@quayside/messages';
import { failureOf, type RunRequest, type StreamedEvent } from '@quayside/shoot';
import { channelsOf } from './channel-book.ts';
import { letterHandler } from './deliver-letter.ts';

export interface MessengerParts {
  readonly store: Store;
  readonly address: RedisAddress;
  readonly configuration: Configuration;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** True when no other worker may be sending: what an earlier one left in the queues is dropped, and asked for anew. */
  readonly isAlone: boolean;
  readonly log: (sentence: string, about?: object) => void;
  /** How often a letter is tried, and the first pause; for tests. */
  readonly rules?: Partial<RunRules>;
}

/** Tells people by the channels of the configuration. */
export interface Messenger {
  /** Takes in the verdict of a roll; settles when it is on record, not when it is sent. Telling it twice tells people once. */
  tellVerdict(rollId: string, matter: RollMatter): Promise<void>;
  /** Lets go of what is being sent; it is sent at the next start. */
  stop(): Promise<void>;
}

/** Sixteen tries with pauses that double from two seconds: the last one is made after eighteen hours. */
const PATIENT: Partial<RunRules> = { attempts: 16, firstPauseMs: 2000 };
const STOP_GRACE_MS = 3000;
const ASK_AGAIN_MS = 20_000;
/** What happened before a journal was begun is old, but for the drives that were seen while we started. */
const LOOK_BACK_MS = 60_000;

/**
 * Starts telling people. The journal in the data folder says what is to be told, so the queues in Redis may be lost at any
 * time. Each channel has a queue of its own: one that is dead delays no other, and none of them anything else.
 */
export async function startMessenger(parts: MessengerParts): Promise<Messenger> {
  const { configuration, store, address, log } = parts;
  const channels = channelsOf(configuration);
  const timeZone = configuration.messages.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
  const settings: MessageSettings = { timeZone, channels: [...channels.keys()], rules: configuration.messages.rules };
  const journal = await openJournal(join(configuration.data, 'messages.jsonl'));
  const queues = new Map<string, RunQueue>();
  const workers: QueueWorker[] = [];
  const stopping = new AbortController();
  let nudge: (() => void) | null = null;
  const accept = async (
    telling: Telling,
    to: { event: string | null; channels?: readonly string[] },
  ): Promise<void> => {
    const at = { now: new Date().toISOString(), event: to.event };
    const isNew = await journal.accept(
      telling,
      (waiting) =>
        to.channels?.map((channel) => ({ channel, dueAt: null })) ??
        (telling.message === null ? [] : routeMessage(telling.message, settings, { now: at.now, waiting })),
      at,
    );
    if (isNew) nudge?.();
  };

  for (const configured of channels.values()) {
    const queue = await openQueue(address, {
      name: `letters-${configured.name}`,
      rules: { ...PATIENT, ...parts.rules },
      log,
    });
    queues.set(configured.name, queue);
    if (parts.isAlone) await queue.clear();
    const handler = letterHandler({ journal, store, timeZone, environment: parts.environment, log }, configured);
    workers.push(await queue.work(handler, { concurrency: 1 }));
  }
  const following = followEvents({ store, journal, log }, accept, stopping.signal);
  const sending = keepSending({ journal, queues, log }, stopping.signal, (wake) => {
    nudge = wake;
  });
  return {
    async tellVerdict(rollId, matter) {
      const roll = await store.roll(rollId);
      if (roll !== null) await accept(tellingOfVerdict(roll, matter, new Date().toISOString()), { event: null });
    },
    async stop() {
      stopping.abort();
      nudge?.();
      await Promise.all([following, sending]);
      await Promise.all(workers.map((worker) => worker.stop(STOP_GRACE_MS)));
      await Promise.all([...queues.values()].map((queue) => queue.close()));
      await journal.close();
    },
  };
}

type Accept = (telling: Telling, to: { event: string | null; channels?: readonly string[] }) => Promise<void>;

/** Takes in what the service's events tell, from where the journal stands, until the signal aborts. */
async function followEvents(
  { store, journal, log }: Pick<MessengerParts, 'store' | 'log'> & { readonly journal: MessageJournal },
  accept: Accept,
  signal: AbortSignal,
): Promise<void> {
  let last = journal.event() ?? `${Date.now() - LOOK_BACK_MS}-0`;
  while (!signal.aborted) {
    try {
      for await (const event of store.follow(last, signal)) {
        const asked = channelAsked(event);
        if (asked !== null) await accept(asked.telling, { event: event.id, channels: [asked.channel] });
        const telling = tellingOfEvent(event);
        if (telling !== null) await accept(telling, { event: event.id });
        last = event.id;
      }
    } catch (error) {
      log(`What happens could not be taken in for messages: ${failureOf(error).sentence} It is tried again.`);
      await wait(1000, undefined, { signal }).catch(() => undefined);
    }
  }
}

/** A test of one channel that somebody asked for. */
function channelAsked(event: StreamedEvent): { readonly channel: string; readonly telling: Telling } | null {
  if (event.type !== 'message.asked') return null;
  const message = sampleMessage('test', event.at);
  const request = event.data?.['request'];
  const thread = `test/${typeof request === 'string' ? request : event.id}`;
  return { channel: event.subject, telling: { thread, matter: 'asked', message } };
}

interface Sending {
  readonly journal: MessageJournal;
  readonly queues: ReadonlyMap<string, RunQueue>;
  readonly log: (sentence: string, about?: object) => void;
}

/**
 * Asks for every letter that is due, at each nudge, when something that waited is due, and again from time to time: what
 * waits or runs is not asked for twice, and what a lost Redis held is asked for anew.
 */
async function keepSending(
  { journal, queues, log }: Sending,
  signal: AbortSignal,
  onNudge: (wake: () => void) => void,
): Promise<void> {
  while (!signal.aborted) {
    const { promise: nudged, resolve } = Promise.withResolvers<void>();
    // Before looking: what is nudged while we look is not missed.
    onNudge(resolve);
    try {
      await journal.gather(new Date().toISOString());
      await askForLetters(journal, queues);
    } catch (error) {
      log(`Messages could not be put on their way: ${failureOf(error).sentence} It is tried again.`);
    }
    const due = journal.nextDue();
    const pauseMs = Math.min(ASK_AGAIN_MS, due === null ? ASK_AGAIN_MS : Math.max(Date.parse(due) - Date.now(), 10));
    const over = new AbortController();
    await Promise.race([
      nudged,
      wait(pauseMs, undefined, { signal: AbortSignal.any([signal, over.signal]) }).catch(() => undefined),
    ]);
    over.abort();
  }
}

async function askForLetters(journal: MessageJournal, queues: ReadonlyMap<string, RunQueue>): Promise<void> {
  const runs = new Map<string, RunRequest[]>();
  for (const { letter, channel } of journal.toSend()) {
    if (queues.has(channel)) {
      const run: RunRequest = { id: letter, step: 'send', subject: channel, inputs: {} };
      runs.set(channel, [...(runs.get(channel) ?? []), run]);
    } else {
      // Its channel is no longer in the configuration.
      await journal.settle(letter, 'given-up', new Date().toISOString());
    }
  }
  for (const [channel, wanted] of runs) await queues.get(channel)?.ask(wanted);
}
