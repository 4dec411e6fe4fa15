import { chmod, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { composeLetter, sampleMessage } from '@quayside/messages';
import { type ChannelContext, sendLetter } from '@quayside/channel-contract';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { commandChannel } from './command-channel.ts';

const letter = composeLetter({
  id: 'msg-0123456789abcdef01234567',
  messages: [{ ...sampleMessage('roll.hold', '2026-03-01T10:00:00.000Z'), recorder: '$(touch /tmp/never); "`id`"' }],
  timeZone: 'UTC',
});
const stopping: (() => void)[] = [];
const context: ChannelContext = {
  signal: new AbortController().signal,
  onStop: (stop) => void stopping.push(stop),
  secret: async () => '',
  environment: { PATH: process.env['PATH'] ?? '', QUAYSIDE_TEST: 'given' },
};

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-command-'));
});
afterEach(async () => rm(folder, { recursive: true }));

async function program(text: string): Promise<string> {
  const path = join(folder, 'program');
  await writeFile(path, `#!/bin/sh\n${text}\n`);
  await chmod(path, 0o755);
  return path;
}

function send(command: readonly string[], timeoutSeconds = 10): Promise<void> {
  return sendLetter(commandChannel, { settings: { command, timeoutSeconds }, letter }, context);
}

it('gives the letter as JSON on standard input, and the arguments as they stand', async () => {
  const path = await program(
    `cat > ${folder}/input; printf '%s\\n' "$@" > ${folder}/arguments; env > ${folder}/environment`,
  );
  await send([path, '--loud', '$HOME; `id` *']);
  const { html: _, ...said } = letter;
  expect(JSON.parse(await readFile(join(folder, 'input'), 'utf8'))).toEqual(said);
  expect(await readFile(join(folder, 'arguments'), 'utf8')).toBe('--loud\n$HOME; `id` *\n');
});

it('hands on no environment but what it is given', async () => {
  process.env['QUAYSIDE_TEST_SECRET'] = 'hidden';
  await send([await program(`env > ${folder}/environment`)]);
  delete process.env['QUAYSIDE_TEST_SECRET'];
  const environment = await readFile(join(folder, 'environment'), 'utf8');
  expect(environment).toContain('QUAYSIDE_TEST=given');
  expect(environment).not.toContain('hidden');
});

it('tells how it failed, with the last line that it wrote', async () => {
  const path = await program('echo one >&2; echo "no bell there" >&2; exit 3');
  await expect(send([path])).rejects.toThrow(/did not take the message: it ended with 3: no bell there\./);
  await expect(send([join(folder, 'missing')])).rejects.toMatchObject({ code: 'COMMAND_FAILED', retry: 'later' });
});

it('does not mind a program that reads nothing', async () => {
  await expect(send([await program('exit 0')])).resolves.toBeUndefined();
});

it('kills a program that takes too long, with what it started', async () => {
  const path = await program(`sleep 300 & echo $! > ${folder}/child; wait`);
  await expect(send([path], 1)).rejects.toThrow(/did not end within 1 s and was killed/);
  await expectGone(Number(await readFile(join(folder, 'child'), 'utf8')));
});

it('ends the program when the service stops', async () => {
  const path = await program(`echo $$ > ${folder}/self; exec sleep 300`);
  const sending = expect(send([path], 100)).rejects.toThrow(/ended with SIGKILL/);
  while ((await readFile(join(folder, 'self'), 'utf8').catch(() => '')) === '') await wait(10);
  for (const stop of stopping) stop();
  await sending;
});

/** Killed, or a zombie that nobody has waited for. */
async function expectGone(pid: number): Promise<void> {
  await expect
    .poll(async () => (await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => 'gone')).replace(/.*\) (\w).*/s, '$1'))
    .toMatch(/gone|Z/);
}
