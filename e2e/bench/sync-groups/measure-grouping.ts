import { groupBySync, GroupingPolicy } from '@quayside/sync-grouping';
import { medianOf, type Row } from '../row.ts';
import { manyClips } from './many-clips.ts';

const ROUNDS = 5;

/** The grouping itself, by the processor time of its thread, which other work on the machine does not change: ten thousand clips, and a hundred thousand to show how it grows. */
export function measureGrouping(): readonly Row[] {
  const small = timesFor(10_000);
  const large = timesFor(100_000);
  const growth = (medianOf(large) ?? 0) / (medianOf(small) ?? 1);
  return [
    row('10,000 clips grouped', { samples: small, limit: 150, notes: [] }),
    row('100,000 clips grouped', {
      samples: large,
      limit: 2000,
      notes: [`${growth.toFixed(1)} times what a tenth of them takes; n log n is 12.5`],
    }),
  ];
}

function row(what: string, { samples, limit, notes }: { samples: number[]; limit: number; notes: string[] }): Row {
  const target = { sense: 'under', limit } as const;
  return { bench: 'sync-groups', what, unit: 'ms', value: medianOf(samples), samples, target, notes };
}

function timesFor(count: number): number[] {
  const clips = manyClips(count);
  const policy = GroupingPolicy.parse({});
  return Array.from({ length: ROUNDS }, () => {
    const before = process.threadCpuUsage();
    groupBySync(clips, policy, { shootId: 'pottery-class', at: '2026-11-25T18:00:00.000Z' });
    const { user, system } = process.threadCpuUsage(before);
    return (user + system) / 1000;
  });
}
