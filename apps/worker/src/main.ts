import { join } from 'node:path';
import { createFootage } from '@quayside/media-files';
import { openQueue, openStore, redisAddressFrom } from '@quayside/job-queue';
import { checksumPlugin } from '@quayside/plugin-checksum';
import { clearancePlugin } from '@quayside/plugin-clearance';
import { ingestPlugin } from '@quayside/plugin-ingest';
import { notificationPlugin } from '@quayside/plugin-notification';
import { probePlugin } from '@quayside/plugin-probe';
import { proxyPlanningPlugin } from '@quayside/plugin-proxy-planning';
import { syncGroupingPlugin } from '@quayside/plugin-sync-grouping';
import { keepBeating, logLines, runProcess } from '@quayside/service-process';
import type { Step } from '@quayside/step-sdk/built-in';
import { makeFacts } from './capabilities/facts.ts';
import { makeManifests } from './capabilities/manifests.ts';
import { makeMessages } from './capabilities/messages.ts';
import { makeRolls } from './capabilities/rolls.ts';
import { makeShoots } from './capabilities/shoots.ts';
import { configOf, environment, settings } from './config.ts';
import { DestinationBook } from './destinations/destination-book.ts';
import { takeInOneAtATime } from './intake/take-in-one-at-a-time.ts';
import { hasChannels } from './messages/channel-book.ts';
import { startMessenger } from './messages/start-messenger.ts';
import { makeRunHandler } from './runs/run-handler.ts';
import { answerRebuilds } from './upkeep/answer-rebuild.ts';
import { keepTrue } from './upkeep/keep-true.ts';
import { keepUp } from './upkeep/keep-up.ts';
import { noteStart, noteStop } from './upkeep/note-start.ts';
import { isOtherWorkerAlive, workerBeat } from './upkeep/worker-beat.ts';
import { ProgressMeter } from './upkeep/progress-meter.ts';

const PLUGINS = [
  ingestPlugin,
  checksumPlugin,
  probePlugin,
  clearancePlugin,
  notificationPlugin,
  syncGroupingPlugin,
  proxyPlanningPlugin,
];
/** Of runs under way nearly all wait for their turn at a destination; as many as there are must not keep the short ones out. */
const CONCURRENCY = 256;
const STOP_GRACE_MS = 15_000;

const log = logLines('worker');

await runProcess(log, async () => {
  const { configuration, redis } = await settings();
  const address = redisAddressFrom(redis);
  const store = await openStore(address, { log });
  const queue = await openQueue(address, { log });
  const book = new DestinationBook({ store, configuration });
  const footage = createFootage({ parallelPerDestination: (name) => book.configured(name)?.parallel ?? 1 });
  const facts = makeFacts(store);
  const atWork = join(configuration.data, 'at-work');
  const steps = new Map<string, Step>(PLUGINS.flatMap((plugin) => plugin.steps.map((step) => [step.name, step])));
  await store.saveBuiltInSteps(
    [...steps.values()].map(({ name, scope, after }) => ({ name, scope, after: [...after] })),
  );
  const takeIn = takeInOneAtATime({ store, queue, book, configuration, isAnswering: footage.isAnswering });
  const isAlone = !isOtherWorkerAlive((await store.beats())['worker']);
  const messenger = hasChannels(configuration)
    ? await startMessenger({ store, address, configuration, environment: environment(), isAlone, log })
    : null;
  const handler = makeRunHandler({
    store,
    queue,
    configuration,
    steps,
    configOf: (step) => configOf(step, configuration),
    capabilities: {
      footage,
      rolls: makeRolls({ store, book, takeIn }),
      manifests: makeManifests({ store, book, configuration }),
      messages: makeMessages({ log, messenger }),
      facts,
      shoots: makeShoots({ store, book, configuration }),
    },
    isAnswering: footage.isAnswering,
    meter: new ProgressMeter(store),
    log,
  });

  // What should run follows from the rolls' states, so whatever an earlier worker left in the queue is dropped and asked for anew.
  if (isAlone) await queue.clear();
  for (const { failure } of await book.find()) if (failure !== null) log(failure.sentence, { code: failure.code });
  const stopping = new AbortController();
  const worker = await queue.work(handler, { concurrency: CONCURRENCY });
  const beating = keepBeating((ttlMs) => store.beat('worker', ttlMs, workerBeat()), stopping.signal);
  const upkeepParts = { store, queue, book, configuration, log };
  const upkeep = [keepUp, keepTrue, answerRebuilds].map((keep) => keep(upkeepParts, stopping.signal));
  await store.publish([await noteStart(atWork, new Date().toISOString())]);
  log('The worker is ready.', { ready: true });
  return async () => {
    stopping.abort();
    await worker.stop(STOP_GRACE_MS);
    await Promise.all([...upkeep, beating, messenger?.stop()]);
    await Promise.all([footage.close(), facts.close()]);
    await queue.close();
    await store.close();
    await noteStop(atWork);
  };
});
