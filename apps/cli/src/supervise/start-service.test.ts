import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';
import { inspectRedis } from '@quayside/job-queue';
import { expect, it, onTestFinished } from 'vitest';
import { makeHome, startQuayside } from '../quayside.test-support.ts';

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

it('the password of Redis is in no command line, and the processes get it all the same', async () => {
  const port = await freePort();
  const url = `redis://:s3cret-glaze@127.0.0.1:${port}`;
  await using home = await makeHome({ lines: `redis: { url: "${url}" }\n` });
  // The password on standard input, so that the server itself does not show it.
  const server = spawn('redis-server', ['-'], { stdio: ['pipe', 'ignore', 'ignore'] });
  onTestFinished(() => void server.kill('SIGKILL'));
  server.stdin.end(`port ${port}\nbind 127.0.0.1\nrequirepass s3cret-glaze\nsave ""\ndir ${home.folder}\n`);
  while ((await inspectRedis({ kind: 'url', url }).catch(() => null)) === null) await pause(50);

  const started = startQuayside(['start', '-c', home.file]);
  onTestFinished(() => void started.child.kill('SIGTERM'));
  // All three said so, which they only do with a Redis that let them in.
  await started.sees('Quayside is ready');
  // Of the operating system, as anybody may ask it.
  const { stdout: shown } = await promisify(execFile)('ps', ['-ww', '-eo', 'args=']);
  expect(shown).not.toContain('s3cret-glaze');
  for (const app of ['watcher', 'worker', 'admin-api']) {
    expect(shown).toMatch(new RegExp(`apps/${app}/src/main.ts --config ${home.file}$`, 'm'));
  }
  started.child.kill('SIGTERM');
  const { stdout, stderr } = await started.ended;
  expect(stdout + stderr).not.toContain('s3cret-glaze');
}, 120_000);
