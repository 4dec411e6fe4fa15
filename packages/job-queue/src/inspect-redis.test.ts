import { expect, it, onTestFinished } from 'vitest';
import { inspectRedis } from './inspect-redis.ts';
import { judgeRedis } from './judge-redis.ts';
import { temporaryFolder, testRedis } from './redis-server.test-support.ts';
import { startRedis } from './start-redis.ts';

it('our own Redis is found fit', async () => {
  const redis = await startRedis({ dataFolder: await temporaryFolder(), log: () => undefined });
  onTestFinished(() => redis.stop());
  const report = await inspectRedis(redis.address);
  expect(report).toMatchObject({ persistence: 'aof', evictionPolicy: 'noeviction', problems: [], cautions: [] });
  expect(report.version).toMatch(/^\d+\.\d+\.\d+/);
});

it.each(['allkeys-lru', 'volatile-ttl'])('a Redis that evicts by %s is a problem', async (policy) => {
  const { address } = await testRedis('--maxmemory-policy', policy);
  const { problems } = await inspectRedis(address);
  expect(problems).toMatchObject([{ code: 'REDIS_EVICTS', retry: 'never' }]);
  expect(problems[0]?.sentence).toContain(policy);
});

it('a Redis that keeps nothing on disk is a caution, one with snapshots is not', async () => {
  const forgetful = await testRedis('--appendonly', 'no');
  expect(await inspectRedis(forgetful.address)).toMatchObject({
    persistence: 'none',
    problems: [],
    cautions: [{ code: 'REDIS_NOT_PERSISTENT' }],
  });
  const snapshots = await testRedis('--appendonly', 'no', '--save', '3600 1');
  expect(await inspectRedis(snapshots.address)).toMatchObject({ persistence: 'rdb', problems: [], cautions: [] });
});

it('a Redis that hides its configuration is judged by what INFO tells, with a caution', async () => {
  const { address } = await testRedis('--rename-command', 'CONFIG', '', '--maxmemory-policy', 'allkeys-lfu');
  expect(await inspectRedis(address)).toMatchObject({
    persistence: 'aof',
    evictionPolicy: 'allkeys-lfu',
    problems: [{ code: 'REDIS_EVICTS' }],
    cautions: [{ code: 'REDIS_CONFIG_HIDDEN' }],
  });
});

it('a Redis that is not there is unreachable', async () => {
  const redis = await testRedis();
  await redis.kill();
  await expect(inspectRedis(redis.address)).rejects.toMatchObject({ code: 'REDIS_UNREACHABLE' });
}, 20_000);

// The versions are those of Redis' release list (redis.io, "Redis release cycle"); 6.2 is ioredis 6's stated minimum.
it.each([
  ['5.0.14', true],
  ['6.0.20', true],
  ['6.2.0', false],
  ['7.0.15', false],
  ['8.4.0', false],
  ['10.0.0', false],
])('version %s: too old is %s', (version, isTooOld) => {
  const info = `# Server\r\nredis_version:${version}\r\nmaxmemory_policy:noeviction\r\n`;
  const config = new Map([['appendonly', 'yes']]);
  const { problems } = judgeRedis({ kind: 'socket', path: 'redis.sock' }, { info, config });
  expect(problems.map((problem) => problem.code)).toEqual(isTooOld ? ['REDIS_TOO_OLD'] : []);
});
