import type { FileBytes } from '../file-bytes/file-bytes.ts';
import { type Box, boxesIn, findBox, readBody } from './box.ts';
import type { SampleRun } from './sample-times.ts';

/** What the fragments of a file (ISO/IEC 14496-12, `moof`) hold of one track. */
export interface FragmentTally {
  readonly runs: readonly SampleRun[];
  /** False when there were more fragments than are read. */
  readonly isWhole: boolean;
}

export const NO_FRAGMENTS: FragmentTally = { runs: [], isWhole: true };

/** Two hours of a fragment each second and three quarters; the file's times are then told by its first ones only. */
const MOST_FRAGMENTS = 4096;
const MOST_SAMPLES_IN_FRAGMENT = 100_000;

/** Tallies the samples of the fragments by track. A fragment that is cut short is left out. */
export function readFragments(
  file: FileBytes,
  index: Box,
  fragments: readonly Box[],
): ReadonlyMap<number, FragmentTally> {
  const usualTicks = readUsualTicks(file, index);
  const runsOf = new Map<number, SampleRun[]>();
  for (const fragment of fragments.slice(0, MOST_FRAGMENTS)) {
    if (fragment.end > file.size) continue;
    for (const box of boxesIn(file, fragment.bodyStart, fragment.end)) {
      if (box.type === 'traf') addTrackFragment(file, box, { usualTicks, runsOf });
    }
  }
  const isWhole = fragments.length <= MOST_FRAGMENTS;
  return new Map([...runsOf].map(([id, runs]) => [id, { runs, isWhole }]));
}

/** How long a sample of each track lasts where its fragment does not say (`trex`). */
function readUsualTicks(file: FileBytes, index: Box): ReadonlyMap<number, number> {
  const extension = findBox(file, index, 'mvex');
  const usualTicks = new Map<number, number>();
  if (extension === null) return usualTicks;
  for (const box of boxesIn(file, extension.bodyStart, extension.end)) {
    const bytes = readBody(file, box, 16);
    if (box.type === 'trex' && bytes.length === 16) usualTicks.set(bytes.readUInt32BE(4), bytes.readUInt32BE(12));
  }
  return usualTicks;
}

interface Tally {
  readonly usualTicks: ReadonlyMap<number, number>;
  readonly runsOf: Map<number, SampleRun[]>;
}

function addTrackFragment(file: FileBytes, traf: Box, { usualTicks, runsOf }: Tally): void {
  const header = findBox(file, traf, 'tfhd');
  if (header === null) return;
  const bytes = readBody(file, header, 32);
  const flags = bytes.readUInt32BE(0) & 0xff_ffff;
  const id = bytes.readUInt32BE(4);
  const ticksAt = 8 + (flags & 0x1 ? 8 : 0) + (flags & 0x2 ? 4 : 0);
  const ticks = flags & 0x8 ? bytes.readUInt32BE(ticksAt) : (usualTicks.get(id) ?? 0);
  const runs = runsOf.get(id) ?? [];
  runsOf.set(id, runs);
  for (const box of boxesIn(file, traf.bodyStart, traf.end)) {
    if (box.type === 'trun') for (const run of readRun(file, box, ticks)) addRun(runs, run);
  }
}

function readRun(file: FileBytes, box: Box, usualTicks: number): readonly SampleRun[] {
  const head = readBody(file, box, 8);
  const flags = head.readUInt32BE(0) & 0xff_ffff;
  const count = head.readUInt32BE(4);
  if (!(flags & 0x100)) return [{ count, ticks: usualTicks }];
  const start = 8 + (flags & 0x1 ? 4 : 0) + (flags & 0x4 ? 4 : 0);
  const width = 4 * [0x100, 0x200, 0x400, 0x800].filter((flag) => flags & flag).length;
  const bytes = file.readAt(box.bodyStart + start, Math.min(count, MOST_SAMPLES_IN_FRAGMENT) * width);
  return Array.from({ length: Math.floor(bytes.length / width) }, (_, index) => ({
    count: 1,
    ticks: bytes.readUInt32BE(index * width),
  }));
}

function addRun(runs: SampleRun[], run: SampleRun): void {
  const last = runs.at(-1);
  if (last?.ticks === run.ticks) runs[runs.length - 1] = { count: last.count + run.count, ticks: run.ticks };
  else runs.push(run);
}
