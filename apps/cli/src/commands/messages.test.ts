import { chmod, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { makeHome, quayside, startQuayside } from '../quayside.test-support.ts';

it('previews a message of each form without a service, and names the kinds there are', async () => {
  const text = await quayside(['messages', 'preview', 'roll.clear']);
  expect(text.stdout).toMatch(/^Subject: CLEAR: wheel may be recorded over\n\n.*Look at the verdict/s);
  expect((await quayside(['messages', 'preview', 'drive.pulled', '--html'])).stdout).toMatch(/^<!doctype html>/);
  const unknown = await quayside(['messages', 'preview', 'roll.cleared']);
  expect([unknown.code, unknown.stderr]).toEqual([2, expect.stringContaining('roll.clear, roll.hold')]);
});

it('tests a channel and says what became of it, and lists how the channels fare', async () => {
  const home = await makeHome({
    lines: `messages:
  command:
    bell: { command: [/bin/sh, PROGRAM] }
    broken: { command: [/bin/false] }
`,
  });
  const program = join(home.folder, 'bell');
  await writeFile(program, `cat > '${join(home.folder, 'rung')}'\n`);
  await chmod(program, 0o755);
  await writeFile(home.file, (await readFile(home.file, 'utf8')).replace('PROGRAM', program));
  const service = startQuayside(['start', '--config', home.file]);
  onTestFinished(async () => {
    service.child.kill('SIGTERM');
    await service.ended;
    await home[Symbol.asyncDispose]();
  });
  await service.sees('Quayside is ready');
  const tested = await quayside(['messages', 'test', 'bell', '--config', home.file]);
  expect(tested).toMatchObject({ code: 0, stdout: 'The test was sent by bell. See whether it has arrived.\n' });
  expect(JSON.parse(await readFile(join(home.folder, 'rung'), 'utf8'))).toMatchObject({
    subject: 'A test of Quayside',
  });
  const failed = await quayside(['messages', 'test', 'broken', '--config', home.file]);
  expect([failed.code, failed.stdout]).toEqual([1, expect.stringMatching(/could not be sent by broken.*ended with 1/)]);
  expect((await quayside(['messages', 'test', 'horn', '--config', home.file])).stderr).toMatch(/no channel "horn"/);
  const listed = await quayside(['messages', 'list', '--channel', 'broken', '--config', home.file]);
  expect(listed.stdout).toMatch(/^2\d{3}-.* due {2}broken {2}test {2}.*\n {2}tried \d times: .*ended with 1/m);
  const { stdout } = await quayside(['channels', '--config', home.file]);
  expect(stdout).toMatch(
    /^CHANNEL +KIND +TO +TO SEND +LAST SENT\nbell +command +\/bin\/sh +0 +2\d{3}-.*\nbroken +command/,
  );
  expect(stdout).toMatch(/\nbroken: The command \/bin\/false did not take the message/);
});
