import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { findPlugin } from './plugin-source/find-plugin.ts';
import { FOOTAGE, Studio } from './studio.test-support.ts';

let studio: Studio;
beforeAll(async () => {
  studio = await Studio.open();
});
afterAll(() => studio.close());

it('gives a step its facts, copies, outputs and secrets, and hands on its output, findings, log, progress and files', async () => {
  const fractions: number[] = [];
  const taken: [string, string][] = [];
  const outcome = await studio.run(
    `progress({ fraction: 0.5, text: 'half', secondsLeft: 1 });
     log.info('begun'); console.log('printed');
     const text = fs.readFileSync(copies.of(subject.clip), 'utf8');
     fs.mkdirSync(outputFolder + '/frames'); fs.writeFileSync(outputFolder + '/frames/first.txt', text);
     fs.writeFileSync(scratchFolder + '/mine', '');
     report.finding({ code: 'SILENT', severity: 'warning', sentence: 'It is silent.', remedy: 'Listen.' });
     return { text, config, outputs, secret: secrets.door };`,
    {
      plugin: 'frames',
      step: "after: ['other/measure', 'probe'],",
      config: { size: 3 },
      outputs: { 'other/measure': { peak: -1 } },
      secrets: { door: 'open' },
      onProgress: ({ fraction }) => void fractions.push(fraction),
      takeFiles: async ({ folder, files }) => {
        for (const { path } of files) taken.push([path, await readFile(join(folder, path), 'utf8')]);
      },
    },
  );
  expect(outcome).toMatchObject({
    state: 'done',
    output: { text: FOOTAGE, config: { size: 3 }, outputs: { 'other/measure': { peak: -1 } }, secret: 'open' },
    findings: [{ code: 'frames/SILENT', severity: 'warning', subject: { kind: 'clip', id: 'wheel-1/cup.mov' } }],
  });
  expect(outcome.log.head.map(({ level, text }) => [level, text])).toEqual(
    expect.arrayContaining([
      ['info', 'begun'],
      ['out', 'printed'],
    ]),
  );
  expect(fractions).toEqual([0.5]);
  expect(taken).toEqual([['frames/first.txt', FOOTAGE]]);
});

it('a step that finds that it does not apply is skipped, with its own reason', async () => {
  const outcome = await studio.run('return null;', { plugin: 'frames', step: "when: () => 'It has no picture.'," });
  expect(outcome).toMatchObject({ state: 'skipped', why: 'It has no picture.' });
});

it('a failure that the step states is told under its own code, with its own word on trying again', async () => {
  const outcome = await studio.run(
    "throw new StepFailure({ code: 'NO_DISC', sentence: 'The tape library is closed.', retry: 'later' });",
    { plugin: 'tape' },
  );
  expect(outcome).toMatchObject({
    state: 'failed',
    failure: {
      code: 'tape/NO_DISC',
      retry: 'later',
      sentence: expect.stringContaining('plugin "tape": The tape library'),
    },
  });
});

it.each([
  {
    what: 'of a later contract',
    members: { apiVersion: 2, version: '1' },
    code: 'PLUGIN_API_VERSION',
    sentence: /"\.\/odd\.ts" was written for version 2 of/,
  },
  {
    what: 'that names no contract',
    members: { version: '1' },
    code: 'PLUGIN_API_VERSION',
    sentence: /version undefined of the contract/,
  },
  {
    what: 'without a version',
    members: { apiVersion: 1 },
    code: 'PLUGIN_INVALID',
    sentence: /"\.\/odd\.ts" does not keep the contract: at "version"/,
  },
])('a plugin $what is refused when it is loaded, by its name', async ({ members, code, sentence }) => {
  const folder = join(studio.folder, 'plugins');
  // Of another contract its steps may be anything.
  const steps = code === 'PLUGIN_API_VERSION' ? [{ does: 'something' }] : [];
  await writeFile(join(folder, 'odd.ts'), `export default ${JSON.stringify({ name: 'odd', steps, ...members })};\n`);
  await expect(studio.host.describe(await findPlugin('./odd.ts', folder), {})).rejects.toMatchObject({
    code,
    retry: 'never',
    message: expect.stringMatching(sentence),
  });
});
