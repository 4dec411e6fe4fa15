import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { BenchWork } from '../bench-work.ts';
import { medianOf, type Row } from '../row.ts';
import { layClass } from '../../media/lay-class.ts';
import { measureFacts } from './measure-facts.ts';
import { measureGrouping } from './measure-grouping.ts';
import { type ClassRun, takeInClass } from './take-in-class.ts';

/** More than a parcel holds, so that each clip is one. */
const LARGE_CLIP = 66 * 2 ** 20;

/** How soon a take can be edited, how soon the records of a shoot are there, and what the grouping itself takes. */
export async function benchSyncGroups({ folder, options: { repeat }, say }: BenchWork): Promise<readonly Row[]> {
  const own = join(folder, 'class');
  await mkdir(own, { recursive: true });
  say('sync-groups: making four drives of twenty clips ...');
  await layClass({ folder: own, takes: 20, clipBytes: LARGE_CLIP });
  const rounds: { readonly editableFirst: ClassRun; readonly plain: ClassRun }[] = [];
  for (let number = 1; number <= repeat; number += 1) {
    const editableFirst = await takeInClass(own, 'editable-first');
    const plain = await takeInClass(own, 'plain');
    rounds.push({ editableFirst, plain });
    say(
      `sync-groups: round ${number} of ${repeat}: newest take usable after ${editableFirst.newestUsable.toFixed(1)} s, in plain order ${plain.newestUsable.toFixed(1)} s`,
    );
  }
  const facts = await measureFacts(join(own, 'wheel', 'CLIPS', 'wheel-001.mov'));
  await rm(own, { recursive: true });
  await mkdir(own);
  say('sync-groups: making four drives of fifty clips ...');
  await layClass({ folder: own, takes: 50, clipBytes: 0 });
  const whole = await takeInClass(own, 'editable-first');
  await rm(own, { recursive: true });
  return [...orderRows(rounds), recordsRow(whole), ...facts, ...measureGrouping()];
}

function orderRows(rounds: readonly { readonly editableFirst: ClassRun; readonly plain: ClassRun }[]): readonly Row[] {
  const samples = rounds.map(({ editableFirst, plain }) => plain.newestUsable / editableFirst.newestUsable);
  const median = (of: (round: (typeof rounds)[number]) => number): string => (medianOf(rounds.map(of)) ?? 0).toFixed(1);
  return [
    {
      bench: 'sync-groups',
      what: 'four drives of twenty clips, the newest take usable: editable-first beside plain order',
      unit: 'times',
      value: medianOf(samples),
      samples,
      target: { sense: 'at least', limit: 1 },
      notes: [
        `the newest take could be edited after ${median((round) => round.editableFirst.newestUsable)} s, in plain order after ${median((round) => round.plain.newestUsable)} s`,
        `any take could be edited after ${median((round) => round.editableFirst.firstUsable)} s, in plain order after ${median((round) => round.plain.firstUsable)} s`,
        `all drives clear after ${median((round) => round.editableFirst.allClear)} s, in plain order after ${median((round) => round.plain.allClear)} s`,
      ],
    },
  ];
}

function recordsRow({ recordsAfter }: ClassRun): Row {
  return {
    bench: 'sync-groups',
    what: 'four recorders, 200 clips: from the last proven byte to timelines and report at both destinations',
    unit: 'ms',
    value: recordsAfter * 1000,
    samples: [recordsAfter * 1000],
    target: { sense: 'under', limit: 5000 },
    notes: ['sealing at both destinations included'],
  };
}
