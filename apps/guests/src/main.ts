import { join } from 'node:path';
import { createGuestHost, systemFences } from '@quayside/guest-host';
import { openStore, redisAddressFrom } from '@quayside/job-queue';
import { keepBeating, logLines, runProcess } from '@quayside/service-process';
import { failureOf } from '@quayside/shoot';
import { settings } from './config.ts';
import { learnFromRun } from './records/measured-proxies.ts';
import { type LoadedPlugins, loadPlugins } from './plugins/load-plugins.ts';
import { watchPlugins } from './plugins/watch-plugins.ts';
import { keepShoots } from './runs/keep-shoots.ts';
import { ShootKeeper } from './runs/shoot-keeper.ts';
import { tellOfRun } from './runs/tell-of-run.ts';

const log = logLines('guests');
const FENCED_BY_NODE_ALONE =
  "This system gives less than it could to fence plugins' steps in, so more of that is up to Node alone: the README of guest-host says what. On Linux, install util-linux and allow user namespaces.";

await runProcess(log, async () => {
  const { configuration, redis, folder, environment } = await settings();
  const store = await openStore(redisAddressFrom(redis), { log });
  const host = await createGuestHost({ workFolder: join(configuration.data, 'guests') });
  const { network, limits, privileges } = systemFences();
  if (!network || !limits || !privileges) log(FENCED_BY_NODE_ALONE, { network, limits, privileges });
  const load = async (): Promise<LoadedPlugins> => {
    const plugins = await loadPlugins(configuration.plugins, { host, folder, environment });
    await store.savePlugins(plugins.standings);
    for (const { failure } of plugins.standings) if (failure !== null) log(failure.sentence, { code: failure.code });
    return plugins;
  };
  const loaded = await load();
  const stopping = new AbortController();
  const { signal } = stopping;
  const due = new Set<string>();
  // One after the other: each reads what the one before has written.
  let learning = Promise.resolve();
  const keeper = new ShootKeeper({
    store,
    host,
    configuration,
    loaded,
    log,
    signal,
    onEnd: async (shootId, run) => {
      due.add(shootId);
      await tellOfRun(store, run);
      learning = learning.catch(() => undefined).then(() => learnFromRun(store, configuration.data, run));
      await learning;
    },
  });
  const beating = keepBeating((ttlMs) => store.beat('guests', ttlMs, String(process.pid)), signal);
  const reload = async (): Promise<void> => {
    keeper.use(await load());
    for (const { id } of await store.shoots()) due.add(id);
    log('Files of a plugin have changed; what begins from now on runs as they are now.');
  };
  const watching = watchPlugins(
    { wanted: configuration.plugins, folder },
    () => reload().catch((error: unknown) => log(failureOf(error).sentence)),
    signal,
  );
  const keeping = keepShoots({ store, keeper, log, due }, signal);
  log('The guests are ready.', { ready: true });
  return async () => {
    stopping.abort();
    await host.close();
    await Promise.allSettled([keeping, watching, beating, keeper.close()]);
    await store.close();
  };
});
