import { type MeasuredProxy, planProxies, ProxyPolicy } from '@quayside/proxy-planning';
import { manyClips } from '../sync-groups/many-clips.ts';
import { medianOf, type Row } from '../row.ts';

const ROUNDS = 5;
const CLIPS = 10_000;
const CLIPS_OF_TAKE = 4;

/** Planning ten thousand clips in takes of four, with a thousand measured proxies and a budget, by the processor time of its thread. */
export async function benchProxyPlan(): Promise<readonly Row[]> {
  const clips = manyClips(CLIPS);
  const groups = Array.from({ length: CLIPS / CLIPS_OF_TAKE }, (_, take) => ({
    id: `take-${take}`,
    clipIds: clips.slice(take * CLIPS_OF_TAKE, (take + 1) * CLIPS_OF_TAKE).map(({ id }) => id),
    isComplete: take % 5 > 0,
  }));
  const measured = Array.from({ length: 1000 }, (_, index): MeasuredProxy => ({
    from: index % 2 === 0 ? 'prores' : 'H.264',
    to: 'prores-422-proxy',
    pixels: 3840 * 2160,
    frames: 1440,
    seconds: 60 + (index % 7),
    tableBytes: 300_000_000,
    bytes: 280_000_000,
  }));
  const policy = ProxyPolicy.parse({});
  const samples = Array.from({ length: ROUNDS }, () => {
    const before = process.threadCpuUsage();
    planProxies(clips, policy, { groups, measured, space: { place: 'primary', bytes: 1e12 } });
    const { user, system } = process.threadCpuUsage(before);
    return (user + system) / 1000;
  });
  const target = { sense: 'under', limit: 100 } as const;
  const value = medianOf(samples);
  const notes = [`the first, before the code is warm, took ${Math.round(samples[0] ?? 0)} ms`];
  return [{ bench: 'proxy-plan', what: '10,000 clips planned for proxies', unit: 'ms', value, samples, target, notes }];
}
