import { join } from 'node:path';
import { inspectRedis, openQueue, openStore } from '@quayside/job-queue';
import { failureOf } from '@quayside/shoot';
import { ensureToken } from './access/token.ts';
import { removeAddress, writeAddress } from './address-file.ts';
import { openAuditLog } from './audit/audit-log.ts';
import { buildApi } from './build-api.ts';
import { cannotListen } from './cannot-listen.ts';
import { readSettings } from './config.ts';
import { logLine } from './log-line.ts';

try {
  const { configuration, redis, port } = await readSettings(process.argv.slice(2));
  const token = await ensureToken(configuration.data);
  const [store, queue, report] = await Promise.all([
    openStore(redis, { log: logLine }),
    openQueue(redis, { log: logLine }),
    inspectRedis(redis),
  ]);
  const audit = openAuditLog(join(configuration.data, 'audit.jsonl'));
  const cautions = report.cautions.map(({ sentence }) => sentence);
  const app = await buildApi({ store, queue, configuration, token, audit, cautions, now: isoNow }, { logs: true });
  const url = await app.listen({ host: '127.0.0.1', port }).catch((error: unknown) => {
    throw cannotListen(port, error);
  });
  await writeAddress(configuration.data, url);

  let isStopping = false;
  const stop = async (): Promise<void> => {
    if (isStopping) return;
    isStopping = true;
    await removeAddress(configuration.data);
    await app.close();
    await Promise.all([queue.close(), store.close()]);
    process.disconnect?.();
  };
  process.on('SIGTERM', () => void stop());
  // In a terminal Ctrl-C reaches every process of the service; the supervisor then says in which order they end.
  process.on('SIGINT', () => void (process.connected ? undefined : stop()));
  // Without its supervisor nobody would ever end it.
  process.on('disconnect', () => void stop());
  process.send?.({ ready: true });
} catch (error) {
  logLine(failureOf(error).sentence, { level: 'error' });
  process.exit(1);
}

function isoNow(): string {
  return new Date().toISOString();
}
