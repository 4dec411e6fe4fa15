import { z } from 'zod';
import { printBytes } from '../print-bytes.ts';
import { compareText } from './compare-text.ts';
import type { ClipPlan, ProxyPlan } from './proxy-plan.ts';

/** What one change of a plan is about: a sentence for people, and the clips. */
export const PlanDifference = z.object({ sentence: z.string(), clipIds: z.array(z.string()) });
export type PlanDifference = z.output<typeof PlanDifference>;

/** Clips that a sentence names; of more it gives the count. */
const NAMED = 3;

/**
 * What a new plan says otherwise than the old one, clips of the same change in one sentence. Estimates that only moved by what
 * was measured since are told in the totals alone. Empty when nothing differs.
 */
export function planDifferences(before: ProxyPlan, now: ProxyPlan): readonly PlanDifference[] {
  const old = new Map(before.clips.map((clip) => [clip.clipId, clip]));
  const known = new Set(now.clips.map(({ clipId }) => clipId));
  const changes = [
    ...now.clips.map((clip) => ({ clip, change: changeOf(old.get(clip.clipId), clip) })),
    ...before.clips.filter(({ clipId }) => !known.has(clipId)).map((clip) => ({ clip, change: 'gone from the shoot' })),
  ].filter(({ change }) => change !== null);
  const differences = [...Map.groupBy(changes, ({ change }) => change)].map(([change, of]) => ({
    sentence: `${namesOf(of.map(({ clip }) => clip))}: ${change}.`,
    clipIds: of.map(({ clip }) => clip.clipId).toSorted(compareText),
  }));
  const totals = totalsText(before, now);
  return totals === null ? differences : [...differences, { sentence: totals, clipIds: [] }];
}

function changeOf(before: ClipPlan | undefined, now: ClipPlan): string | null {
  const is = statedAs(now);
  if (before === undefined) return `new, ${is}`;
  const was = statedAs(before);
  return was === is ? null : `${is}; before, ${was}`;
}

/** What a plan says of a clip, in words that are equal when nothing an editor sees differs. */
function statedAs(clip: ClipPlan): string {
  if (clip.state === 'not-needed') return 'no proxy needed';
  if (clip.state === 'impossible') return 'a proxy cannot be planned';
  const { codec, width, height, megabits } = clip.proxy;
  const rate = megabits === null ? '' : ` at ${Number(megabits.toFixed(2))} Mb/s`;
  return `${clip.state === 'planned' ? 'gets' : 'left out for want of room,'} ${codec} ${width}x${height}${rate}`;
}

function namesOf(clips: readonly ClipPlan[]): string {
  const paths = clips.map(({ recorder, path }) => `${recorder} ${path}`).toSorted(compareText);
  return paths.length <= NAMED ? paths.join(', ') : `${paths[0]} and ${paths.length - 1} others`;
}

function totalsText({ totals: before }: ProxyPlan, { totals: now }: ProxyPlan): string | null {
  const [was, is] = [plannedText(before), plannedText(now)];
  return was === is ? null : `In all: ${is}; before, ${was}.`;
}

function plannedText({ planned: { count, bytes, seconds } }: ProxyPlan['totals']): string {
  return `${count} proxies, ${printBytes(bytes.expected)}, ${Math.ceil(seconds.expected / 60)} min of work`;
}
