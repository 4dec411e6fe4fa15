import type { Grant, StepDescription } from '@quayside/shoot';
import { expect, it } from 'vitest';
import { decideRuns, type GuestSubject, keyOfRun, type LastRun, type Situation } from './decide-runs.ts';
import { orderSteps, type PluginInUse } from './order-steps.ts';

const LIMITS = { seconds: 600, memoryMb: 512, programsMb: 4096, outputMb: 1024, parallel: 1 };
type Stated = Partial<Pick<StepDescription, 'scope' | 'after' | 'asks' | 'secrets'>>;

function plugin(name: string, steps: Readonly<Record<string, Stated>>, grants: readonly Grant[] = []): PluginInUse {
  const described = Object.entries(steps).map(([step, stated]) => ({
    name: step,
    scope: 'clip' as const,
    description: null,
    after: [],
    asks: [],
    secrets: [],
    limits: LIMITS,
    makesWay: false,
    ...stated,
  }));
  return { plugin: { apiVersion: 1, name, version: '1', description: null, steps: described }, grants, secrets: [] };
}

const namesIn = (plugins: readonly PluginInUse[]): readonly string[] =>
  orderSteps(plugins).steps.map(({ fullName }) => fullName);
const faultsIn = (plugins: readonly PluginInUse[]): readonly string[] =>
  orderSteps(plugins).faults.map((fault) => `${fault.plugin} ${fault.failure.code}`);

it('each step comes after those that it names, in whatever order the plugins stand', () => {
  const sheet = plugin('sheet', { page: { scope: 'shoot', after: ['frames/take', 'sync-grouping'] } });
  const frames = plugin('frames', { take: { after: ['probe'] } });
  expect(namesIn([sheet, frames])).toEqual(['frames/take', 'sheet/page']);
});

it('a plugin with a fault is named and left out, and so is what builds on it; the others go on', () => {
  const good = plugin('good', { work: {} });
  const cases: [string[], PluginInUse[]][] = [
    [['lost PLUGIN_STEP_UNKNOWN'], [plugin('lost', { work: { after: ['nowhere/work'] } })]],
    [['good PLUGIN_CLASH'], [plugin('good', { other: {} })]],
    [['wild PLUGIN_GRANT_MISSING'], [plugin('wild', { work: { asks: ['network'] } })]],
    [['spy PLUGIN_SECRET_MISSING'], [plugin('spy', { work: { secrets: ['door'] } })]],
    [
      ['a PLUGIN_CYCLE', 'b PLUGIN_CYCLE'],
      [plugin('a', { work: { after: ['b/work'] } }), plugin('b', { work: { after: ['a/work'] } })],
    ],
    [['self PLUGIN_CYCLE'], [plugin('self', { work: { after: ['self/work'] } })]],
    [
      ['lost PLUGIN_STEP_UNKNOWN', 'next PLUGIN_STEP_UNKNOWN'],
      [plugin('next', { work: { after: ['lost/work'] } }), plugin('lost', { work: { after: ['nowhere/work'] } })],
    ],
  ];
  for (const [faults, plugins] of cases) {
    expect(faultsIn([good, ...plugins])).toEqual(faults);
    expect(namesIn([good, ...plugins])).toEqual(['good/work']);
  }
});

it('what only stands behind a cycle is told that its step is unknown, not that it is part of it', () => {
  const loop = plugin('loop', { work: { after: ['loop/work'] } });
  expect(faultsIn([loop, plugin('behind', { work: { after: ['loop/work'] } })])).toEqual([
    'loop PLUGIN_CYCLE',
    'behind PLUGIN_STEP_UNKNOWN',
  ]);
});

const done = new Set(['seal', 'probe'] as const);
const clip = (id: string, state = 'as it is'): GuestSubject => ({ kind: 'clip', id, rollId: 'wheel-1', state, done });
const roll: GuestSubject = { kind: 'roll', id: 'wheel-1', rollId: 'wheel-1', state: 'as it is', done };
const CLIPS = [clip('wheel-1/a.mov'), clip('wheel-1/b.mov')];

function situation(plugins: readonly PluginInUse[], over: Partial<Situation> = {}): Situation {
  return {
    steps: orderSteps(plugins).steps,
    subjects: [...CLIPS, roll],
    lastRuns: new Map(),
    builtIn: new Map(),
    configs: new Map(),
    nowMs: 0,
    digest: (text) => text,
    ...over,
  };
}

const told = (one: Situation): readonly string[] =>
  decideRuns(one).map(({ step, subject, verdict, why }) => `${verdict} ${step.fullName} ${subject.id}: ${why}`);

/** What decisions of this situation become once their runs have ended so. */
function ended(one: Situation, how: Partial<LastRun> = {}): ReadonlyMap<string, LastRun> {
  const runs = decideRuns(one).filter(({ verdict }) => verdict === 'run');
  const last = runs.map(({ step, subject, fingerprint, tries }): [string, LastRun] => [
    keyOfRun(step.fullName, subject),
    {
      fingerprint,
      state: 'done',
      why: '',
      output: 'given',
      tries: tries + 1,
      retry: 'later',
      endedAtMs: one.nowMs,
      ...how,
    },
  ]);
  return new Map([...one.lastRuns, ...last]);
}

const MEASURE = plugin('loudness', {
  measure: { after: ['probe'] },
  sum: { scope: 'roll', after: ['loudness/measure'] },
});

it('a step over a roll waits for the clips, runs after them, and is then kept', () => {
  const first = situation([MEASURE]);
  expect(told(first)).toEqual([
    'run loudness/measure wheel-1/a.mov: It has not run yet.',
    'run loudness/measure wheel-1/b.mov: It has not run yet.',
    'wait loudness/sum wheel-1: It waits for loudness/measure.',
  ]);
  const second = { ...first, lastRuns: ended(first) };
  expect(told(second)[2]).toBe('run loudness/sum wheel-1: It has not run yet.');
  const third = { ...second, lastRuns: ended(second) };
  expect(decideRuns(third).map(({ verdict }) => verdict)).toEqual(['keep', 'keep', 'keep']);
});

it('what a built-in step gives lets a step run, wait or rest, and has it run again when it is another', () => {
  const planned = plugin('proxies', { render: { after: ['proxy-planning'] } });
  const given = (verdict: 'run' | 'wait' | 'rest', state: string): Situation =>
    situation([planned], {
      subjects: [{ ...clip('wheel-1/a.mov'), done: new Set(['proxy-planning'] as const) }],
      builtIn: new Map([['proxy-planning clip wheel-1/a.mov', { verdict, state, why: 'The plan says so.' }]]),
    });
  expect(told(given('wait', 'small'))).toEqual(['wait proxies/render wheel-1/a.mov: The plan says so.']);
  expect(told(given('rest', 'small'))).toEqual(['rest proxies/render wheel-1/a.mov: The plan says so.']);
  const made = ended(given('run', 'small'));
  expect(told({ ...given('run', 'small'), lastRuns: made })[0]).toContain('keep proxies/render');
  expect(told({ ...given('wait', 'small'), lastRuns: made })[0]).toContain('keep proxies/render');
  expect(told({ ...given('run', 'large'), lastRuns: made })[0]).toContain('what it comes after changed');
});

it('only what changed runs again, with the reason, and what builds on it when the output is another', () => {
  const first = situation([MEASURE]);
  const second = { ...first, lastRuns: ended(first) };
  const whole = { ...second, lastRuns: ended(second) };
  const changed = { ...whole, subjects: [clip('wheel-1/a.mov', 'another'), clip('wheel-1/b.mov'), roll] };
  expect(told(changed).map((line) => line.slice(0, 60))).toEqual([
    'run loudness/measure wheel-1/a.mov: It runs since its subjec',
    'keep loudness/measure wheel-1/b.mov: It ran with the same in',
    'wait loudness/sum wheel-1: It waits for loudness/measure.',
  ]);
  expect(told({ ...changed, lastRuns: ended(changed) })[2]).toContain('keep loudness/sum');
  expect(told({ ...changed, lastRuns: ended(changed, { output: 'other' }) })[2]).toContain(
    'run loudness/sum wheel-1: It runs since what it comes after changed',
  );
  const configured = { ...whole, configs: new Map([['loudness/sum', 'louder']]) };
  expect(told(configured)[2]).toContain('its configuration changed');
});

it('a failure is tried again after growing pauses, up to a limit, and never when that would not help', () => {
  let one = situation([plugin('flaky', { work: { scope: 'roll' } })]);
  const pauses: number[] = [];
  for (;;) {
    one = { ...one, lastRuns: ended(one, { state: 'failed', output: '' }) };
    const waiting = decideRuns(one)[0];
    if (waiting?.verdict === 'rest') break;
    const step = 1000;
    let nowMs = one.nowMs;
    while (decideRuns({ ...one, nowMs })[0]?.verdict === 'wait') nowMs += step;
    pauses.push((nowMs - one.nowMs) / 1000);
    one = { ...one, nowMs };
  }
  expect(pauses).toEqual([15, 120, 960]);
  expect(told(one)).toEqual(['rest flaky/work wheel-1: It failed 4 times.']);
  const hopeless = situation([plugin('flaky', { work: { scope: 'roll' } })]);
  expect(told({ ...hopeless, lastRuns: ended(hopeless, { state: 'failed', retry: 'never' }) })[0]).toContain('rest');
});

it('a step waits for the built-in steps that it names, and rests when the step before it gave nothing', () => {
  const late = plugin('late', { work: { after: ['clearance'] }, last: { after: ['late/work'] } });
  expect(told(situation([late]))[0]).toBe('wait late/work wheel-1/a.mov: It waits for clearance.');
  const chain = situation([plugin('chain', { work: {}, next: { after: ['chain/work'] } })]);
  const skipped = { ...chain, lastRuns: ended(chain, { state: 'skipped', output: '' }) };
  expect(told(skipped).at(-1)).toBe('rest chain/next wheel-1/b.mov: chain/work gave it nothing to go on with.');
});

it('what a step over the shoot gave goes to every clip, and a roll builds on its own clips alone', () => {
  const far: GuestSubject = { kind: 'clip', id: 'hands-1/a.mov', rollId: 'hands-1', state: 'as it is', done };
  const shoot: GuestSubject = { kind: 'shoot', id: 'class', rollId: null, state: 'as it is', done };
  const tops = plugin('tops', {
    plan: { scope: 'shoot' },
    cut: { after: ['tops/plan'] },
    sum: { scope: 'roll', after: ['tops/cut'] },
  });
  const first = situation([tops], { subjects: [...CLIPS, far, roll, shoot] });
  const second = { ...first, lastRuns: ended(first) };
  expect(
    decideRuns(second)
      .filter(({ verdict }) => verdict === 'run')
      .map(({ subject }) => subject.id),
  ).toEqual(['wheel-1/a.mov', 'wheel-1/b.mov', 'hands-1/a.mov']);
  const third = { ...second, lastRuns: ended(second) };
  const farChanged = { ...third, subjects: [...CLIPS, { ...far, state: 'another' }, roll, shoot] };
  expect(told(farChanged).find((line) => line.includes('tops/sum'))).toBe('run tops/sum wheel-1: It has not run yet.');
});

it('ten thousand clips of a hundred rolls are decided on, each roll by its own', () => {
  const rolls = Array.from({ length: 100 }, (_, place): GuestSubject => ({
    ...roll,
    id: `roll-${place}`,
    rollId: `roll-${place}`,
  }));
  const clips = Array.from({ length: 10_000 }, (_, place): GuestSubject => ({
    ...clip(`${place}.mov`),
    rollId: `roll-${place % 100}`,
  }));
  const first = situation([MEASURE], { subjects: [...clips, ...rolls] });
  const second = { ...first, lastRuns: ended(first) };
  expect(decideRuns(second).filter(({ verdict }) => verdict === 'run')).toHaveLength(100);
});
