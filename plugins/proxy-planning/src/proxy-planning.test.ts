import { type MeasuredProxy, PlanOnRecord } from '@quayside/proxy-planning';
import type { Clip } from '@quayside/shoot';
import { runStep, type Capabilities, type ShootMaterial, type StepContext } from '@quayside/step-sdk/built-in';
import { groupBySync, GroupingPolicy } from '@quayside/sync-grouping';
import { expect, it } from 'vitest';
import { z } from 'zod';
import { proxyPlanning } from './proxy-planning.ts';

const SHOOT = '2026-11-25';

function clip(recorder: string, startTimecode: string): Clip {
  const path = `${startTimecode.replaceAll(':', '')}.mov`;
  return {
    id: `${recorder}-1/${path}`,
    rollId: `${recorder}-1`,
    path,
    recorder,
    role: 'camera',
    sizeInBytes: 1000,
    modifiedAt: '2026-11-25T10:01:00.000Z',
    facts: {
      kind: 'picture',
      container: 'mov',
      durationMs: 10_000,
      picture: {
        codec: 'ProRes',
        profile: 'LT',
        width: 3840,
        height: 2160,
        pixelAspect: null,
        rate: { numerator: 25, denominator: 1 },
        isVariableRate: false,
        frameCount: 250,
        scan: 'progressive',
        bitDepth: 10,
        chroma: '4:2:2',
        colour: { primaries: null, transfer: null, matrix: null },
      },
      startTimecode,
      sound: [],
      wave: null,
      device: { make: null, model: null, serial: null },
      reel: null,
      created: null,
      damage: [],
    },
  };
}

// Two takes of two cameras, and one that `wheel` recorded alone.
const CLIPS = [
  clip('wheel', '10:00:00:00'),
  clip('hands', '10:00:00:01'),
  clip('wheel', '10:10:00:00'),
  clip('hands', '10:10:00:01'),
  clip('wheel', '10:20:00:00'),
];
const GROUPING = groupBySync(CLIPS, GroupingPolicy.parse({}), { shootId: SHOOT, at: '2026-11-25T18:00:00.000Z' });

const Planned = z.object({ planState: z.string(), planned: PlanOnRecord });

async function plan(
  change: Partial<ShootMaterial> = {},
  bytes = 1e12,
  measured: readonly MeasuredProxy[] = [],
): Promise<z.output<typeof Planned>> {
  const material: ShootMaterial = {
    name: 'Pottery class',
    clips: CLIPS,
    factsState: 'facts',
    recordsState: 'records',
    planState: 'state',
    proxyPlan: null,
    grouping: GROUPING,
    renderings: new Map(),
    acknowledgements: {},
    ...change,
  };
  const context: StepContext & Pick<Capabilities, 'shoots'> = {
    signal: new AbortController().signal,
    log: () => {},
    progress: () => {},
    shoots: {
      material: async () => material,
      places: async () => [],
      measuredProxies: async () => measured,
      roomForProxies: async () => ({ place: 'primary', bytes }),
      write: async () => {},
    },
  };
  const others = { footage: {}, rolls: {}, manifests: {}, messages: {}, facts: {} };
  // The step is handed what it asks for alone, so nothing stands behind the other names.
  const all = { ...context, ...others } as unknown as StepContext & Capabilities;
  return Planned.parse(await runStep(proxyPlanning, { config: {}, input: { shootId: SHOOT } }, all));
}

it('plans the newest take that all recorders have first, and says of which state the plan is', async () => {
  const { planState, planned } = await plan();
  expect(planState).toBe('state');
  expect(planned.changes).toEqual([]);
  expect(planned.plan.clips.map(({ clipId, state }) => `${clipId} ${state}`)).toEqual([
    'hands-1/10100001.mov planned',
    'wheel-1/10100000.mov planned',
    'hands-1/10000001.mov planned',
    'wheel-1/10000000.mov planned',
    'wheel-1/10200000.mov planned',
  ]);
});

it('leaves out what has no room where proxies would lie', async () => {
  const { planned } = await plan({}, 0);
  expect(planned.plan.totals).toMatchObject({ planned: { count: 0 }, leftOut: { count: 5 } });
});

it('estimates by what making proxies took on this machine', async () => {
  const made = { from: 'ProRes', to: 'prores-422-proxy', pixels: 3840 * 2160, frames: 100 } as const;
  const measured = [{ ...made, seconds: 50, tableBytes: 1000, bytes: 800 }];
  const [[guessed], [learned]] = [
    (await plan()).planned.plan.clips,
    (await plan({}, 1e12, measured)).planned.plan.clips,
  ];
  if (guessed?.state !== 'planned' || learned?.state !== 'planned') throw new Error('Both are planned.');
  expect(guessed.seconds.basis).toBe('never measured here');
  expect(learned.seconds).toMatchObject({ expected: 125, basis: 'measured here' });
  expect(learned.bytes.expected / guessed.bytes.expected).toBeCloseTo(0.8, 3);
});

it('says what differs from the plan before, and compares with none that an older version kept otherwise', async () => {
  const { planned: before } = await plan({ clips: CLIPS.slice(0, 4) });
  const { planned } = await plan({ proxyPlan: before });
  expect(planned.changes[0]?.sentence).toBe('wheel 10200000.mov: new, gets prores-422-proxy 1920x1080.');
  expect((await plan({ proxyPlan: { plan: 'of old' } })).planned.changes).toEqual([]);
});
