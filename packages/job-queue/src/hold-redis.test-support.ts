// A service of its own for the kill -9 test: starts Redis in the folder it is given, tells the pid, and stays.
import { argv, stdout } from 'node:process';
import { startRedis } from './start-redis.ts';

const redis = await startRedis({ dataFolder: argv[2] ?? '', log: () => undefined });
stdout.write(`${redis.pid}\n`);
setInterval(() => undefined, 60_000);
