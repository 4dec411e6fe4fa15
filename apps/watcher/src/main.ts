import { openQueue, openStore, redisAddressFrom } from '@quayside/job-queue';
import { keepBeating, logLines, runProcess } from '@quayside/service-process';
import type { Failure } from '@quayside/shoot';
import { watchVolumes } from '@quayside/volumes';
import { settings } from './config.ts';
import { VolumeDesk } from './volume-desk.ts';

const log = logLines('watcher');
const onTrouble = ({ sentence, code }: Failure): void => log(sentence, { code });

await runProcess(log, async () => {
  const { configuration, redis } = await settings();
  const address = redisAddressFrom(redis);
  const store = await openStore(address, { log });
  const queue = await openQueue(address, { log });
  const stopping = new AbortController();
  const { signal } = stopping;
  const beating = keepBeating((ttlMs) => store.beat('watcher', ttlMs, String(process.pid)), signal);
  const desk = new VolumeDesk({ store, queue, configuration, log, signal });
  const { roots, folders } = configuration.watch;
  await desk.beginAnew({ roots, folders });
  const watching = (async () => {
    for await (const change of watchVolumes({ roots, folders, signal, onTrouble })) {
      if (change.kind === 'left') await desk.left(change.volume);
      else await desk.appeared(change.volume);
    }
  })();
  log('The watcher is ready.', { ready: true });
  return async () => {
    stopping.abort();
    await Promise.allSettled([watching, beating, desk.settled()]);
    await queue.close();
    await store.close();
  };
});
