import { join } from 'node:path';
import { inspectRedis, openQueue, openStore, redisAddressFrom } from '@quayside/job-queue';
import { deliveryReader } from '@quayside/message-journal';
import { logLines, runProcess } from '@quayside/service-process';
import { openTokenBook } from './access/token-book.ts';
import { ensureToken } from './access/token.ts';
import { removeAddress, writeAddress } from './address-file.ts';
import { openAuditLog } from './audit/audit-log.ts';
import { buildApi } from './build-api.ts';
import { cannotListen } from './cannot-listen.ts';
import { pageFolder, settings } from './config.ts';

const log = logLines('admin-api');
/** So that with what else it takes nobody waits for two seconds. */
const ANSWER_WITHIN_MS = 1_700;

const now = (): string => new Date().toISOString();

await runProcess(log, async () => {
  const { configuration, redis } = await settings();
  const address = redisAddressFrom(redis);
  const tokens = openTokenBook(configuration.data, { token: await ensureToken(configuration.data), now });
  const [store, queue, report] = await Promise.all([
    openStore(address, { log }),
    openQueue(address, { log }),
    inspectRedis(address),
  ]);
  const audit = openAuditLog(join(configuration.data, 'audit.jsonl'));
  const deliveries = deliveryReader(join(configuration.data, 'messages.jsonl'));
  const cautions = report.cautions.map(({ sentence }) => sentence);
  const page = pageFolder();
  const app = await buildApi(
    { store, queue, configuration, tokens, audit, deliveries, cautions, now, answerWithinMs: ANSWER_WITHIN_MS, page },
    { logs: true },
  );
  const { port } = configuration.api;
  const url = await app.listen({ host: '127.0.0.1', port }).catch((error: unknown) => {
    throw cannotListen(port, error);
  });
  await writeAddress(configuration.data, url);
  return async () => {
    await removeAddress(configuration.data);
    await app.close();
    await Promise.all([queue.close(), store.close()]);
  };
});
