import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';

it('a process that opens no queue does not load BullMQ', async () => {
  const script = `
    import { registerHooks } from 'node:module';
    const asked = [];
    registerHooks({ resolve: (name, context, next) => { asked.push(name); return next(name, context); } });
    await import(${JSON.stringify(new URL('index.ts', import.meta.url).href)});
    console.log(JSON.stringify(asked));`;
  const args = ['--conditions=source', '--input-type=module', '-e', script];
  const { stdout } = await promisify(execFile)(process.execPath, args);
  // The other library is loaded: so the list is one that would show BullMQ.
  expect(JSON.parse(stdout)).toContain('ioredis');
  expect(JSON.parse(stdout)).not.toContain('bullmq');
});
