import { expect, it } from 'vitest';
import { clip, plan } from '../clips.test-support.ts';
import type { ClipPlan } from '../plan/proxy-plan.ts';
import type { RenderedProxy } from '../plan/rendered-proxy.ts';
import { type ClipRendering, renderingOf, type RenderingRun } from './clip-rendering.ts';

const [PLANNED] = plan([clip('1.mov')]).clips;
if (PLANNED?.state !== 'planned') throw new Error('The clip is planned.');
const { proxy, bytes, seconds } = PLANNED;
const OUTPUT: RenderedProxy = {
  file: '1.mov',
  encoder: 'prores_ks',
  target: proxy,
  predicted: { bytes, seconds },
  measured: {
    from: 'ProRes',
    to: 'prores-422-proxy',
    pixels: 3840 * 2160,
    frames: 1500,
    seconds: 90,
    tableBytes: 1000,
    bytes: 900,
  },
};
const RUN: RenderingRun = {
  id: '0123456789abcdef',
  state: 'done',
  why: 'It has not run yet.',
  output: OUTPUT,
  sentences: [],
  fraction: null,
  isHeldUp: false,
  isRecognised: false,
  heldUpMs: 0,
};
const USED = { standing: 'free', isUsed: true } as const;
const stateOf = (run: Partial<RenderingRun> | null, how: Partial<Parameters<typeof renderingOf>[2]> = {}): string => {
  const { state, why }: ClipRendering = renderingOf(PLANNED, run && { ...RUN, ...run }, { ...USED, ...how });
  return `${state}: ${why}`;
};

it('a planned proxy says what it waits for', () => {
  expect(stateOf(null)).toBe('waiting: It waits for its turn.');
  expect(stateOf(null, { standing: 'asked' })).toBe('waiting: The plan waits to be approved.');
  expect(stateOf(null, { standing: 'held' })).toBe('waiting: The plan is held.');
  expect(stateOf(null, { isUsed: false })).toBe('planned: No plugin that makes proxies is in use.');
});

it('one that is under way says how far it is, and whether it stands still', () => {
  const under = { ...RUN, state: 'running', output: null, fraction: 0.25 } as const;
  expect(renderingOf(PLANNED, under, USED)).toMatchObject({ state: 'rendering', fraction: 0.25, run: RUN.id });
  expect(stateOf({ ...under, isHeldUp: true })).toBe('held-up: It stands still while drives are being taken in.');
});

it('one that is made says what it came to beside what was expected, without the time that it stood still', () => {
  const { state, made } = renderingOf(PLANNED, { ...RUN, heldUpMs: 30_000 }, USED);
  expect([state, made?.bytes, made?.seconds, made?.predicted.bytes]).toEqual(['made', 900, 60, bytes]);
  expect(stateOf({ isRecognised: true })).toContain('recognised');
});

it('one that failed, that was not kept, or that was stopped says why', () => {
  expect(stateOf({ state: 'failed', output: null, sentences: ['ffmpeg is gone.'] })).toBe('failed: ffmpeg is gone.');
  const notKept = { ...OUTPUT, file: null };
  expect(stateOf({ output: notKept, sentences: ['It is a frame short.'] })).toBe('failed: It is a frame short.');
  expect(stateOf({ state: 'cancelled', output: null, why: 'A person stopped it.' })).toContain('cancelled: A person');
});

it('what was made after an earlier plan waits to be made anew, and what the plan leaves out is so', () => {
  expect(stateOf({ output: { ...OUTPUT, target: { ...proxy, width: 1280 } } })).toContain('waiting');
  const left: ClipPlan = { ...PLANNED, state: 'left-out' };
  expect(renderingOf(left, null, USED).state).toBe('left-out');
});
