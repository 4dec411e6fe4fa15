import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, it } from 'vitest';
import { parse } from 'yaml';
import { makeHome, quayside } from '../quayside.test-support.ts';

it('prints a configuration that gives itself again', async () => {
  await using home = await makeHome();
  const first = await quayside(['config', '--config', home.file]);
  expect(first).toMatchObject({ code: 0, stderr: '' });
  const again = join(home.folder, 'again.yaml');
  await writeFile(again, first.stdout);
  expect((await quayside(['config', '-c', again])).stdout).toBe(first.stdout);
});

// Checked by ajv, an independent validator of JSON Schema 2020-12.
it('prints a JSON Schema that takes a good file and refuses a wrong key', async () => {
  await using home = await makeHome();
  const { stdout } = await quayside(['config', '--schema']);
  const validate = new Ajv2020({ strict: false }).compile(JSON.parse(stdout));
  const good: Record<string, unknown> = parse(await readFile(home.file, 'utf8'));
  expect(validate(good)).toBe(true);
  expect(validate({ ...good, destination: [] })).toBe(false);
});

it('exits with 2 and names the place when the file is wrong', async () => {
  await using home = await makeHome({ lines: 'copys: 2\n' });
  const checked = await quayside(['config', '--check', '-c', home.file]);
  expect(checked).toMatchObject({ code: 2, stdout: '' });
  expect(checked.stderr).toMatch(/quayside\.yaml:\d+:1 copys/);
  expect((await quayside(['start', '-c', home.file])).code).toBe(2);
});

it('finds the file by option, then by environment, then here, then in the folder of the user', async () => {
  await using home = await makeHome();
  await mkdir(join(home.folder, 'xdg', 'quayside'), { recursive: true });
  await writeFile(join(home.folder, 'xdg', 'quayside', 'quayside.yaml'), 'nobody: 1\n');
  const xdg = { XDG_CONFIG_HOME: join(home.folder, 'xdg') };
  const wrong = { QUAYSIDE_CONFIG: '/nonexistent.yaml' };
  expect(await sayings(['config', '--check', '-c', home.file], wrong)).toContain(`${home.file} is a good`);
  expect(await sayings(['config', '--check'], wrong, home.folder)).toContain('/nonexistent.yaml');
  expect(await sayings(['config', '--check'], xdg, home.folder)).toContain(`${home.file} is a good`);
  expect(await sayings(['config', '--check'], xdg, join(home.folder, 'drives'))).toContain(
    'xdg/quayside/quayside.yaml:1:1',
  );
});

it.each([[['nosuch']], [['assign', 'x']], [['events', '-n', 'many']], [['config', '--no-such-option']]])(
  'exits with 2 for the wrong command line %j',
  async (args) => {
    const ended = await quayside(args);
    expect(ended.code).toBe(2);
    expect(ended.stderr).not.toBe('');
  },
);

it('says in one sentence that the service is not running', async () => {
  await using home = await makeHome({ port: 9 });
  const commands = [
    'status',
    'volumes',
    'shoots',
    'events',
    'retry x',
    'assign x wheel',
    'roll move x y',
    'shoot open x',
  ];
  await Promise.all(
    commands.map(async (command) => {
      const ended = await quayside([...command.split(' '), '-c', home.file]);
      expect(ended, command).toMatchObject({ code: 1, stdout: '' });
      expect(ended.stderr, command).toMatch(/^Quayside is not running: .*\n$/);
    }),
  );
}, 120_000);

async function sayings(...run: Parameters<typeof quayside>): Promise<string> {
  const { stdout, stderr } = await quayside(...run);
  return stdout + stderr;
}
