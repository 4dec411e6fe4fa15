import type { PlacedClip } from '../clock/placed-clip.ts';
import { firstUnitFrom, lastUnitUpTo } from '../ticks.ts';
import { joinSpans, type Span } from './join-spans.ts';
import { StopHeap } from './stop-heap.ts';

/** A take: its time, the clips that ran in it alone, and those that ran on through it. */
export interface Take {
  readonly chain: number;
  readonly start: number;
  readonly end: number;
  readonly own: readonly PlacedClip[];
  readonly passing: readonly PlacedClip[];
}

/** The policy's tolerances in ticks. */
export interface TakeTolerances {
  readonly triggerTicks: number;
  readonly followerTicks: number;
  readonly restartTicks: number;
}

/** A span while it runs. `stop` is a little before its end, so that a straggler does not reach into the next take. */
interface Running {
  readonly span: Span;
  readonly stop: number;
  isPassing: boolean;
}

/** What has begun since the last cut. */
interface Section {
  readonly running: Running[];
  /** Recorders whose own spans have ended here, with the end. */
  readonly ended: Map<string, number>;
  lastStart: number;
}

/**
 * Finds the takes in one sweep over the spans by start. A take goes on while anything runs. Something that runs on while
 * most of the others stop and start again does not hold two takes together: it passes through both. With as many stopped as
 * running, a pause longer than a restart makes the difference.
 */
export function findTakes(clips: readonly PlacedClip[], tolerances: TakeTolerances): readonly Take[] {
  const takes: Take[] = [];
  let section: Section | null = null;
  let heap = new StopHeap<Running>();
  let counts = new Map<string, number>();
  let chain = -1;
  for (const span of joinSpans(clips)) {
    if (section !== null && span.chain !== chain) {
      takes.push(...closeSection(section, tolerances));
      [section, heap, counts] = [null, new StopHeap<Running>(), new Map<string, number>()];
    }
    chain = span.chain;
    for (let done = heap.popUpTo(span.start); done !== undefined; done = heap.popUpTo(span.start)) {
      retire(done, counts, section);
    }
    const current: Section = section ?? { running: [], ended: new Map(), lastStart: span.start };
    section = current;
    if (isNewTake(span, current, { counts, tolerances })) {
      for (const running of heap.entries()) running.isPassing = true;
      takes.push(...closeSection(current, tolerances));
      section = { running: [...heap.entries()], ended: new Map(), lastStart: span.start };
    }
    const running = { span, stop: stopOf(span, tolerances), isPassing: false };
    section.running.push(running);
    section.ended.delete(span.recorder);
    section.lastStart = span.start;
    heap.push(running);
    counts.set(span.recorder, (counts.get(span.recorder) ?? 0) + 1);
  }
  return section === null ? takes : [...takes, ...closeSection(section, tolerances)];
}

function retire({ span, isPassing }: Running, counts: Map<string, number>, section: Section | null): void {
  const left = (counts.get(span.recorder) ?? 1) - 1;
  if (left === 0) counts.delete(span.recorder);
  else counts.set(span.recorder, left);
  if (isPassing || section === null) return;
  section.ended.set(span.recorder, Math.max(span.end, section.ended.get(span.recorder) ?? span.end));
}

function isNewTake(
  span: Span,
  section: Section,
  now: { readonly counts: ReadonlyMap<string, number>; readonly tolerances: TakeTolerances },
): boolean {
  if (section.running.length === 0) return false;
  const [stopped, running] = [section.ended.size, now.counts.size];
  if (running === 0) return span.start - section.lastStart > now.tolerances.triggerTicks;
  if (stopped === 0 || stopped < running) return false;
  if (stopped > running) return true;
  if (!section.ended.has(span.recorder)) return false;
  return span.start - Math.max(...section.ended.values()) > now.tolerances.restartTicks;
}

function stopOf(span: Span, { followerTicks }: TakeTolerances): number {
  return span.end - Math.min(followerTicks, (span.end - span.start) / 2);
}

/** The take of a section. Its time is that of the spans that ran in it alone; what passes must share enough of it. */
function closeSection({ running }: Section, tolerances: TakeTolerances): readonly Take[] {
  const own = running.filter((one) => !one.isPassing).map((one) => one.span);
  const [first] = own;
  if (first === undefined) return [];
  const [start, end] = [first.start, own.reduce((latest, span) => Math.max(latest, span.end), first.end)];
  const passing = running
    .filter((one) => one.isPassing)
    .flatMap((one) => one.span.clips.filter((clip) => isIn(clip, { start, end }, tolerances)));
  return [{ chain: first.chain, start, end, own: own.flatMap((span) => span.clips), passing }];
}

/** Whether a clip has more of a take than a straggler's few frames, and a whole frame or sample at that. */
export function isIn(
  clip: PlacedClip,
  take: { readonly start: number; readonly end: number },
  { followerTicks }: TakeTolerances,
): boolean {
  const [from, until] = [Math.max(clip.start, take.start), Math.min(clip.end, take.end)];
  const least = Math.min(followerTicks, (clip.end - clip.start) / 2, (take.end - take.start) / 2);
  if (until <= from || until - from < least) return false;
  const { unitRate } = clip.timed;
  return firstUnitFrom(from - clip.start, unitRate) < lastUnitUpTo(until - clip.start, unitRate);
}
