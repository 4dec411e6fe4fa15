// oxlint-disable typescript/await-thenable -- the rule does not see that a generic interface is disposable
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { defineStep, type Plugin, type Step } from '@quayside/step-sdk';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { SUBJECT } from '../studio.test-support.ts';
import { tryIsolated } from './try-isolated.ts';

let folder = '';
let clip = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-try-isolated-'));
  clip = join(folder, 'cup.mov');
  await writeFile(clip, 'The first cup of the day.');
});
afterAll(() => rm(folder, { recursive: true, force: true }));

let written = 0;
/** A plugin with one step as an author has it: in a file, and loaded by the test as well. */
async function pluginOf(body: string, members = ''): Promise<{ step: Step; plugin: string }> {
  const plugin = join(folder, `plugin-${(written += 1)}.ts`);
  const sdk = pathToFileURL(join(import.meta.dirname, '../../../step-sdk/src/index.ts')).href;
  const text = (from: string): string => `import { definePlugin, defineStep } from '${from}';
import * as fs from 'node:fs';
const anything = { '~standard': { version: 1, vendor: 'test', validate: (value) => ({ value }) } };
const before = defineStep({ name: 'before', scope: 'clip', output: anything, async run() {} });
const work = defineStep({ name: 'work', scope: 'clip', config: anything, output: anything, ${members}
  async run({ subject, config, outputs, copies, outputFolder, log, report, secrets }) { ${body} } });
export default definePlugin({ apiVersion: 1, name: 'tried', version: '1', steps: [before, work] });
`;
  await writeFile(plugin, text('@quayside/step-sdk'));
  // This test runs outside the host, which lets a lone file find the SDK.
  const here = plugin.replace(/\.ts$/, '.here.mjs');
  await writeFile(here, text(sdk));
  const { default: loaded }: { default: Plugin } = await import(pathToFileURL(here).href);
  const step = loaded.steps.find(({ name }) => name === 'work');
  return step === undefined ? expect.unreachable() : { step, plugin };
}

const clips = (): { file: string; facts: typeof SUBJECT.clip.facts }[] => [{ file: clip, facts: SUBJECT.clip.facts }];

it('runs a step in a process of its own, and tells all that came of it', async () => {
  const { step, plugin } = await pluginOf(
    `log.info('in process ' + process.pid);
     fs.writeFileSync(outputFolder + '/text.txt', fs.readFileSync(copies.of(subject.clip)));
     report.finding({ code: 'SHORT', severity: 'info', sentence: 'It is short.', remedy: 'Look.' });
     return { config, outputs, secret: secrets.door };`,
    "after: [before, 'other/measure'], secrets: ['door'],",
  );
  const outputs = { before: 1, 'other/measure': 2 };
  const given = { clips: clips(), plugin, config: { size: 3 }, secrets: { door: 'open' } };
  await using outcome = await tryIsolated(step, { ...given, outputs });
  expect(outcome).toMatchObject({
    skipped: null,
    output: { config: { size: 3 }, outputs, secret: 'open' },
    findings: [{ code: 'SHORT', sentence: 'It is short.' }],
    files: ['text.txt'],
  });
  expect(outcome.log[0]?.sentence).toMatch(/^in process \d+$/);
  expect(outcome.log[0]?.sentence).not.toBe(`in process ${process.pid}`);
  expect(await readFile(join(outcome.folder, 'text.txt'), 'utf8')).toBe('The first cup of the day.');
});

it('stops a step at what it may not do, with the sentence that an operator reads', async () => {
  const { step, plugin } = await pluginOf('fs.writeFileSync(copies.of(subject.clip), "gone"); return null;');
  await expect(tryIsolated(step, { clips: clips(), plugin })).rejects.toMatchObject({
    name: 'QuaysideError',
    message: expect.stringContaining('cup.mov'),
  });
});

it('grants what the step asks for, or only what it is told that the operator grants', async () => {
  const { step, plugin } = await pluginOf(
    "return (await import('node:child_process')).spawnSync('true').status;",
    "asks: ['child-processes'],",
  );
  await using granted = await tryIsolated(step, { clips: clips(), plugin });
  expect(granted.output).toBe(0);
  await expect(tryIsolated(step, { clips: clips(), plugin, grants: [] })).rejects.toThrow('start a program');
});

it('leaves nothing behind when the plugin cannot be found, and refuses a step that is nobody’s', async () => {
  const { step, plugin } = await pluginOf('return null;');
  const none = join(folder, 'none.ts');
  await expect(tryIsolated(step, { clips: clips(), plugin: none })).rejects.toMatchObject({ code: 'PLUGIN_NOT_FOUND' });
  const nobodys = defineStep({ name: 'work', scope: 'clip', run: async () => {} });
  await expect(tryIsolated(nobodys, { clips: clips(), plugin })).rejects.toThrow('No plugin registers the step "work"');
  await using outcome = await tryIsolated(step, { clips: clips(), plugin });
  await outcome[Symbol.asyncDispose]();
  expect(existsSync(outcome.folder)).toBe(false);
});
