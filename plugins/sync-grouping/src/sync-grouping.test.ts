import type { Clip } from '@quayside/shoot';
import { RECORD_NAMES } from '@quayside/shoot-records';
import {
  runStep,
  type Capabilities,
  type ShootMaterial,
  type ShootPlace,
  type StepContext,
} from '@quayside/step-sdk/built-in';
import { GroupingResult } from '@quayside/sync-grouping';
import { expect, it } from 'vitest';
import { z } from 'zod';
import { syncGroupingPlugin } from './index.ts';
import { records } from './records.ts';
import { syncGrouping } from './sync-grouping.ts';

function clip(recorder: string, startTimecode: string): Clip {
  const path = `${recorder}.mov`;
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
      durationMs: 10_010,
      picture: {
        codec: 'prores',
        profile: 'LT',
        width: 1920,
        height: 1080,
        pixelAspect: null,
        rate: { numerator: 24_000, denominator: 1001 },
        isVariableRate: false,
        frameCount: 240,
        scan: 'progressive',
        bitDepth: 10,
        chroma: '4:2:2',
        colour: { primaries: null, transfer: null, matrix: null },
      },
      startTimecode,
      sound: [{ codec: 'pcm', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: 480_480 }],
      wave: null,
      device: { make: null, model: null, serial: null },
      reel: null,
      created: null,
      damage: [],
    },
  };
}

const CLIPS = [clip('wheel', '10:00:00:00'), clip('hands', '10:00:00:02')];

function contextOf(change: Partial<ShootMaterial>, places: readonly ShootPlace[] = []) {
  const written = new Map<string, ReadonlyMap<string, string>>();
  const material: ShootMaterial = {
    name: 'Pottery class',
    clips: CLIPS,
    factsState: 'facts',
    recordsState: 'records',
    grouping: null,
    planState: 'plan',
    proxyPlan: null,
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
      places: async () => places,
      measuredProxies: async () => [],
      roomForProxies: async () => null,
      write: async (_shootId, destination, files) => void written.set(destination, files),
    },
  };
  const others = { footage: {}, rolls: {}, manifests: {}, messages: {}, facts: {} };
  // The steps are handed what they ask for alone, so nothing stands behind the other names.
  return { context: { ...context, ...others } as unknown as StepContext & Capabilities, written };
}

const input = { shootId: '2026-11-25' };
const Grouped = z.object({ factsState: z.string(), grouping: GroupingResult });

async function group(change: Partial<ShootMaterial> = {}): Promise<z.output<typeof Grouped>> {
  return Grouped.parse(await runStep(syncGrouping, { config: {}, input }, contextOf(change).context));
}

it('groups what is known of the shoot, and says of which state that is', async () => {
  const { factsState, grouping } = await group();
  expect(factsState).toBe('facts');
  expect(grouping.groups.map(({ members }) => members.map(({ recorder }) => recorder))).toEqual([['wheel', 'hands']]);
});

it('keeps the identity of groups that were there, and is not troubled by what an older version kept', async () => {
  const { grouping } = await group();
  const later = await group({ clips: [...CLIPS, clip('wide', '10:00:00:01')], grouping });
  expect(later.grouping.groups.map(({ id }) => id)).toEqual(grouping.groups.map(({ id }) => id));
  expect((await group({ grouping: { groups: 'of old' } })).grouping.groups).toHaveLength(1);
});

it('writes the records where something of the shoot is proven, with what is missing there', async () => {
  const { grouping } = await group();
  const places = [
    {
      destination: 'primary',
      paths: new Map(CLIPS.map(({ id, path }) => [id, `roll/${path}`])),
      proxies: new Map([[CLIPS[0]?.id ?? '', 'records/plugins/proxy.mov']]),
      guests: [],
    },
    { destination: 'backup', paths: new Map([[CLIPS[0]?.id ?? '', 'roll/wheel.mov']]), proxies: new Map(), guests: [] },
  ];
  const { context, written } = contextOf({ grouping }, places);
  expect(await runStep(records, { config: {}, input }, context)).toEqual({
    recordsState: 'records',
    destinations: ['primary', 'backup'],
  });
  const report = (destination: string): string => written.get(destination)?.get(RECORD_NAMES.report) ?? '';
  const timeline = (destination: string): string => written.get(destination)?.get(RECORD_NAMES.shootTimeline) ?? '';
  expect(timeline('primary')).toContain('"target_url": "../records/plugins/proxy.mov"');
  expect(timeline('backup')).not.toContain('proxy.mov');
  expect(report('primary')).not.toContain('has no proven copy');
  expect(report('backup')).toContain('hands.mov of hands has no proven copy at backup yet.');
});

it('writes no records of a shoot without clips, or before it was grouped', async () => {
  const places = [{ destination: 'primary', paths: new Map([['x', 'y']]), proxies: new Map(), guests: [] }];
  for (const change of [{ clips: [] }, { grouping: null }]) {
    const { context, written } = contextOf(change, places);
    expect(await runStep(records, { config: {}, input }, context)).toMatchObject({ destinations: [] });
    expect(written.size).toBe(0);
  }
});

it('asks for nothing but what is known of shoots', () => {
  expect(syncGroupingPlugin.steps.map(({ name, scope, needs }) => [name, scope, needs])).toEqual([
    ['sync-grouping', 'shoot', ['shoots']],
    ['records', 'shoot', ['shoots']],
  ]);
});
