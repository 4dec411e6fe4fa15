import { megabytes, partsOf } from '../processes/memory-row.ts';
import type { MemoryUse } from '../processes/watch-memory.ts';
import { medianOf, type Row } from '../row.ts';

export interface IdleFindings {
  /** Null where it cannot be measured. */
  readonly quiet: { readonly percent: number; readonly memory: MemoryUse } | null;
  /** Milliseconds. */
  readonly starts: readonly number[];
  readonly firstStart: number;
  readonly sightings: readonly number[];
  readonly whyNoSighting: string;
}

const bench = 'idle' as const;

/** The rows of the idle service. */
export function idleRows({ quiet, starts, firstStart, sightings, whyNoSighting }: IdleFindings): readonly Row[] {
  const notHere = ['it can be measured on Linux only'];
  const memory = quiet === null ? null : megabytes(quiet.memory.all);
  return [
    {
      bench,
      what: 'a thousand known rolls: processor, all processes, over 30 s',
      unit: '%',
      value: quiet?.percent ?? null,
      samples: [],
      target: { sense: 'under', limit: 1 },
      notes: quiet === null ? notHere : ['of one core'],
    },
    {
      bench,
      what: 'a thousand known rolls: memory, all processes',
      unit: 'MB',
      value: memory,
      samples: [],
      target: { sense: 'under', limit: 300 },
      notes: quiet === null ? notHere : [`proportional set size: ${partsOf(quiet.memory.byName)}`],
    },
    {
      bench,
      what: 'a thousand known rolls: from start to ready',
      unit: 'ms',
      value: medianOf(starts),
      samples: starts,
      target: { sense: 'under', limit: 2000 },
      notes: [`the very first start, which fills the cache of compiled code: ${firstStart.toFixed(0)} ms`],
    },
    {
      bench,
      what: 'a thousand known rolls: from mounting a drive to volume.seen',
      unit: 'ms',
      value: medianOf(sightings),
      samples: sightings,
      target: { sense: 'under', limit: 1000 },
      notes: sightings.length === 0 ? [whyNoSighting] : [],
    },
  ];
}
