import { openQueue, openStore } from '@quayside/job-queue';
import { watchVolumes } from '@quayside/volumes';
import { readSettings } from './config.ts';
import { keepBeating } from './keep-beating.ts';
import { logLine } from './log-line.ts';
import { VolumeDesk } from './volume-desk.ts';

const { configuration, redis } = await readSettings(process.argv.slice(2));
const store = await openStore(redis, { log: logLine });
const queue = await openQueue(redis, { log: logLine });
const stopping = new AbortController();
const desk = new VolumeDesk({ store, queue, configuration, log: logLine, signal: stopping.signal });
const { roots, folders } = configuration.watch;

const beating = keepBeating(store, stopping.signal);
const watching = (async () => {
  await desk.beginAnew({ roots, folders });
  logLine('The watcher is ready.', { ready: true });
  process.send?.({ ready: true });
  const changes = watchVolumes({
    roots,
    folders,
    signal: stopping.signal,
    onTrouble: (failure) => logLine(failure.sentence, { code: failure.code }),
  });
  for await (const change of changes) {
    if (change.kind === 'left') await desk.left(change.volume);
    else await desk.appeared(change.volume);
  }
})();

const stop = async (): Promise<void> => {
  if (stopping.signal.aborted) return;
  stopping.abort();
  await Promise.allSettled([watching, beating, desk.settled()]);
  await queue.close();
  await store.close();
  process.disconnect?.();
};
process.on('SIGTERM', stop);
process.on('SIGINT', stop);
process.on('disconnect', stop);
