import { mkdir, mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { idOfRun } from './make-run.ts';
import { pluginsOf, Studio } from './studio.test-support.ts';

const DRAW = idOfRun('class', 'sheet/draw', { kind: 'roll', id: 'wheel-1' });
const FAILURE = { code: 'PLUGIN_THREW', sentence: 'It failed.' } as const;
const KEY = 'sheet/draw wheel-1';
const soon = <Value>(look: () => Value): ReturnType<typeof expect.poll<Value>> =>
  expect.poll(look, { timeout: 20_000 });

it('a step is run once, with the reason on record, and not again while nothing changes', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: {} }));
  await keeper.look(studio.shoot);
  expect(studio.held.map(({ run }) => [run.step, run.subject.kind])).toEqual([['draw', 'roll']]);
  studio.held[0]?.end({ output: 7 });
  await soon(() => studio.runs()).toEqual({ [KEY]: 'done: It has not run yet.' });
  expect(await keeper.look(studio.shoot)).toBe(false);
  expect(studio.held).toHaveLength(1);
  for (const name of ['primary', 'backup']) {
    const lines = await readFile(join(studio.destination(name), 'class/records/plugins/sheet/runs.jsonl'), 'utf8');
    expect(JSON.parse(lines)).toMatchObject({ id: DRAW, state: 'done', output: 7 });
  }
});

it('a run under way is stopped when its roll opens again, and made again when the roll is proven, for that reason', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: {} }));
  await keeper.look(studio.shoot);
  await studio.reconnect();
  await keeper.look(studio.shoot);
  expect(studio.held[0]?.controls.signal.aborted).toBe(true);
  const why = 'Roll wheel-1 opened again while it ran, so it was stopped; it is made again when the roll is proven.';
  await soon(() => studio.runs()).toEqual({ [KEY]: `waiting: ${why}` });
  await keeper.look(studio.shoot);
  expect(await studio.waits()).toEqual({
    [KEY]: 'It waits until roll wheel-1 is proven and sealed at a destination that is there.',
  });
  await studio.proveAgain();
  await keeper.look(studio.shoot);
  expect(studio.held).toHaveLength(2);
  studio.held[1]?.end();
  await soon(() => studio.runs()).toEqual({ [KEY]: `done: ${why}` });
  expect((await studio.store.guestRun(DRAW))?.tries).toBe(1);
});

it('a run over the shoot goes on while a drive is looked at again, and is stopped when there is more on it', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ sum: { scope: 'shoot' } }));
  await keeper.look(studio.shoot);
  await studio.reconnect({ isMore: false });
  await keeper.look(studio.shoot);
  expect(await studio.waits()).toEqual({
    'sheet/sum class': 'It waits until no drive of the shoot is being taken in.',
  });
  expect(studio.held[0]?.controls.signal.aborted).toBe(false);
  await studio.reconnect();
  await keeper.look(studio.shoot);
  expect(studio.held[0]?.controls.signal.aborted).toBe(true);
});

it('a run that the end of the service stops is made again by the next service, as if it had not been begun', async () => {
  const studio = await Studio.open();
  await studio.keeper(pluginsOf({ draw: {} })).look(studio.shoot);
  await studio.endService();
  expect(await studio.runs()).toEqual({});
  await studio.keeper(pluginsOf({ draw: {} })).look(studio.shoot);
  expect(studio.held).toHaveLength(2);
});

it('a run under way is stopped when what it works on changes, and made again from what it is now', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: {} }));
  await keeper.look(studio.shoot);
  studio.shoot = { ...studio.shoot, name: 'Glazing' };
  await keeper.look(studio.shoot);
  const why = 'What it works on changed while it ran, so it was stopped; it is made again.';
  await soon(() => studio.runs()).toEqual({ [KEY]: `waiting: ${why}` });
  await keeper.look(studio.shoot);
  expect(studio.held[1]?.run.subject.shoot.name).toBe('Glazing');
  studio.held[1]?.end();
  await soon(() => studio.runs()).toEqual({ [KEY]: `done: ${why}` });
});

it('a run goes on while its plugin is loaded anew, and is made again as the plugin is now', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: {} }));
  await keeper.look(studio.shoot);
  keeper.use(pluginsOf({ draw: {} }, { version: '2' }));
  await keeper.look(studio.shoot);
  expect(studio.held[0]?.controls.signal.aborted).toBe(false);
  studio.held[0]?.end();
  await soon(() => studio.ended).toHaveLength(1);
  expect(studio.ended[0]).toMatchObject({ state: 'done', version: '1' });
  await keeper.look(studio.shoot);
  studio.held[1]?.end();
  await expect
    .poll(() => studio.runs())
    .toEqual({
      [KEY]: "done: It runs since the plugin's version changed since it last ran.",
    });
});

it('what a person stops rests, what they ask for again is made again, and what they leave out is not made', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: {}, sum: { limits: LIMITS } }));
  await keeper.look(studio.shoot);
  expect(await keeper.obey(DRAW, 'cancel')).toBe('class');
  await soon(async () => (await studio.runs())[KEY]).toBe('cancelled: A person stopped it.');
  await keeper.look(studio.shoot);
  expect(studio.held).toHaveLength(2);
  await keeper.obey(DRAW, 'retry');
  await keeper.look(studio.shoot);
  studio.held[2]?.end();
  await soon(async () => (await studio.runs())[KEY]).toBe('done: A person asked for it again.');
  const sum = idOfRun('class', 'sheet/sum', { kind: 'roll', id: 'wheel-1' });
  await keeper.obey(sum, 'skip');
  await soon(async () => (await studio.runs())['sheet/sum wheel-1']).toBe('cancelled: A person left it out.');
  await keeper.look(studio.shoot);
  expect(studio.held).toHaveLength(3);
  expect(await keeper.obey('ffffffffffffffff', 'skip')).toBeNull();
});

it('one that waits for its turn can be left out before it was ever made', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: { scope: 'clip' } }));
  await keeper.look(studio.shoot);
  expect(studio.held.map(({ run }) => run.subject)).toMatchObject([{ clip: { path: 'CLIPS/a.mov' } }]);
  expect(await studio.waits()).toEqual({
    'sheet/draw wheel-1/CLIPS/b.mov':
      'It waits for a free place: of this step one run is made at once. It has not run yet.',
  });
  await keeper.obey(idOfRun('class', 'sheet/draw', { kind: 'clip', id: 'wheel-1/CLIPS/b.mov' }), 'skip');
  studio.held[0]?.end();
  await expect
    .poll(() => studio.runs())
    .toEqual({
      'sheet/draw wheel-1/CLIPS/a.mov': 'done: It has not run yet.',
      'sheet/draw wheel-1/CLIPS/b.mov': 'cancelled: A person left it out.',
    });
  await keeper.look(studio.shoot);
  expect(studio.held).toHaveLength(1);
  expect(await studio.waits()).toEqual({});
});

it('a failure says when it is tried again, and a step that waits says what for', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(
    pluginsOf({ draw: {}, sum: { after: ['sheet/draw'] }, late: { after: ['clearance', 'probe'] } }),
  );
  await keeper.look(studio.shoot);
  studio.held[0]?.end({ state: 'failed', failure: { ...FAILURE, retry: 'later' } });
  await soon(async () => (await studio.runs())[KEY]).toBe('failed: It has not run yet.');
  expect(await keeper.look(studio.shoot)).toBe(true);
  expect(await studio.waits()).toEqual({
    [KEY]: 'It failed and is tried again after a pause.',
    'sheet/sum wheel-1': 'It waits for sheet/draw.',
    'sheet/late wheel-1': 'It waits for probe.',
  });
  const [again] = (await studio.store.guestWaits('class')).filter(({ id }) => id === DRAW);
  const endedAt = (await studio.store.guestRun(DRAW))?.endedAt ?? '';
  expect(Date.parse(again?.notBefore ?? '') - Date.parse(endedAt)).toBe(15_000);
});

it('steps of a plugin that lacks a grant wait for the operator, who is told so', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: { asks: ['network'] } }));
  expect(await keeper.look(studio.shoot)).toBe(false);
  expect(studio.held).toEqual([]);
  expect((await studio.waits())['sheet/draw class']).toContain('asks for "network"');
});

it('what is on record beside the footage is not run again when Redis is lost, and the view has it again', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: {} }));
  await keeper.look(studio.shoot);
  studio.held[0]?.end({ output: { frames: 25 } });
  await soon(() => studio.ended).toHaveLength(1);
  await studio.loseRedis();
  await keeper.look(studio.shoot);
  expect(await studio.runs()).toEqual({ [KEY]: 'done: It has not run yet.' });
  await studio.loseRedis();
  await studio.keeper(pluginsOf({ draw: {} })).look(studio.shoot);
  expect(studio.held).toHaveLength(1);
  expect((await studio.store.guestRun(DRAW))?.output).toEqual({ frames: 25 });
});

it('what a run leaves lies at every destination; one that was away has files and record when it is back', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: {} }));
  await studio.unplug('backup');
  await keeper.look(studio.shoot);
  const left = await mkdtemp(join(studio.folder, 'left-'));
  await mkdir(join(left, 'pages'));
  await writeFile(join(left, 'pages/one.txt'), 'a page');
  const files = [{ path: 'pages/one.txt', sizeInBytes: 6 }];
  await studio.held[0]?.controls.takeFiles?.({ folder: left, files });
  studio.held[0]?.end();
  await soon(() => studio.ended).toHaveLength(1);
  expect(studio.ended[0]?.filed).toMatchObject({ destination: 'primary', alsoAt: [] });
  await studio.plugIn('backup');
  await keeper.look(studio.shoot);
  await soon(async () => (await studio.store.guestRun(DRAW))?.filed).toMatchObject({ alsoAt: ['backup'] });
  const place = 'class/records/plugins/sheet/draw/wheel-1/pages/one.txt';
  for (const name of ['primary', 'backup'])
    expect(await readFile(join(studio.destination(name), place), 'utf8')).toBe('a page');
  const journal = await readFile(join(studio.destination('backup'), 'class/records/plugins/sheet/runs.jsonl'), 'utf8');
  expect(JSON.parse(journal.trim().split('\n').at(-1) ?? '')).toMatchObject({
    id: DRAW,
    filed: { alsoAt: ['backup'] },
  });
});

it('a destination whose copy has rotted gives nothing to another', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: {} }));
  await studio.unplug('backup');
  await keeper.look(studio.shoot);
  const left = await mkdtemp(join(studio.folder, 'left-'));
  await writeFile(join(left, 'one.txt'), 'a page');
  await studio.held[0]?.controls.takeFiles?.({ folder: left, files: [{ path: 'one.txt', sizeInBytes: 6 }] });
  studio.held[0]?.end();
  await soon(() => studio.ended).toHaveLength(1);
  const place = 'class/records/plugins/sheet/draw/wheel-1/one.txt';
  await writeFile(join(studio.destination('primary'), place), 'a pAge');
  await studio.plugIn('backup');
  await keeper.look(studio.shoot);
  await keeper.close();
  expect(studio.told.join(' ')).toContain('differ');
  expect((await studio.store.guestRun(DRAW))?.filed).toMatchObject({ alsoAt: [] });
  await expect(readFile(join(studio.destination('backup'), place))).rejects.toThrow('ENOENT');
});

it('the runs of a roll that has moved to another shoot are made there, and gone from the first one', async () => {
  const studio = await Studio.open();
  const keeper = studio.keeper(pluginsOf({ draw: {} }));
  await keeper.look(studio.shoot);
  studio.held[0]?.end();
  await soon(() => studio.ended).toHaveLength(1);
  await studio.moveTo('glazing');
  await keeper.look({ ...studio.shoot, id: 'class' });
  expect(await studio.store.guestRuns('class')).toEqual([]);
  await keeper.look(studio.shoot);
  expect(studio.held[1]?.run.subject.shoot.id).toBe('glazing');
});

const LIMITS = { seconds: 600, memoryMb: 512, programsMb: 4096, outputMb: 1024, parallel: 1 };

it('a run that lasts shows how far it is, in its own words and with the time that it has left', async () => {
  const studio = await Studio.open();
  await studio.keeper(pluginsOf({ draw: {} })).look(studio.shoot);
  const tell = setInterval(
    () => studio.held[0]?.controls.onProgress?.({ fraction: 0.25, text: 'page 3', secondsLeft: 9 }),
    100,
  );
  const progress = async (): Promise<unknown> => (await studio.store.guestRun(DRAW))?.progress;
  await soon(progress).toEqual({ fraction: 0.25, text: 'page 3', secondsLeft: 9 });
  clearInterval(tell);
  studio.held[0]?.end();
  await soon(progress).toBeNull();
});
