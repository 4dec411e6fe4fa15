import type { Clip, PictureFacts } from '@quayside/shoot';
import type { PlanContext } from './plan/plan-context.ts';
import { planProxies } from './plan/plan-proxies.ts';
import type { ClipPlan, ProxyPlan } from './plan/proxy-plan.ts';
import { ProxyPolicy } from './policy/proxy-policy.ts';

export const POLICY = ProxyPolicy.parse({});
export const CONTEXT: PlanContext = { groups: [], measured: [], space: null };

export interface Recording {
  readonly picture?: Partial<PictureFacts> | null;
  readonly facts?: Partial<Clip['facts']>;
  readonly recorder?: string;
  readonly sizeInBytes?: number;
  readonly modifiedAt?: string;
}

/** A clip of one minute: ProRes LT in UHD at 25, two channels of 24 bits at 48 kHz, unless told otherwise. */
export function clip(name: string, { picture = {}, facts = {}, recorder = 'wheel', ...rest }: Recording = {}): Clip {
  return {
    id: `${recorder}-1/${name}`,
    rollId: `${recorder}-1`,
    path: name,
    recorder,
    role: 'camera',
    sizeInBytes: 300_000_000,
    modifiedAt: '2026-11-25T18:00:00.000Z',
    ...rest,
    facts: {
      kind: 'picture',
      container: 'mov',
      durationMs: 60_000,
      picture:
        picture === null
          ? null
          : {
              codec: 'ProRes',
              profile: 'LT',
              width: 3840,
              height: 2160,
              pixelAspect: null,
              rate: { numerator: 25, denominator: 1 },
              isVariableRate: false,
              frameCount: 1500,
              scan: 'progressive',
              bitDepth: 10,
              chroma: '4:2:2',
              colour: { primaries: null, transfer: null, matrix: null },
              ...picture,
            },
      startTimecode: '10:00:00:00',
      sound: [{ codec: 'PCM', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: 2_880_000 }],
      wave: null,
      device: { make: null, model: null, serial: null },
      reel: null,
      created: null,
      damage: [],
      ...facts,
    },
  };
}

export function plan(clips: readonly Clip[], change: Partial<PlanContext> = {}, policy = POLICY): ProxyPlan {
  return planProxies(clips, policy, { ...CONTEXT, ...change });
}

/** A plan's clips as lines: what becomes of each. */
export function outline({ clips }: ProxyPlan): readonly string[] {
  return clips.map((one) => `${one.path} ${one.state}${sizeOf(one)}`);
}

function sizeOf(one: ClipPlan): string {
  if (one.state !== 'planned' && one.state !== 'left-out') return '';
  return ` ${one.proxy.codec} ${one.proxy.width}x${one.proxy.height}`;
}
