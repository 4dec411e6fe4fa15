import { z } from 'zod';
import { Estimate } from '../estimates/estimate.ts';
import type { ClipPlan } from '../plan/proxy-plan.ts';
import { RenderedProxy } from '../plan/rendered-proxy.ts';
import type { PlanStanding } from './plan-standing.ts';

/**
 * How far a clip's proxy is. `planned`: nothing in use makes it. `waiting`: it is made when its turn comes, or when what `why`
 * names is over. `held-up`: it stands still while drives are being taken in. `recognised`: it was there, made by an earlier
 * service. `failed`: also one that did not cut back to its original. The last three are those of the plan.
 */
export const ClipRendering = z.object({
  state: z.enum([
    'planned',
    'waiting',
    'rendering',
    'held-up',
    'made',
    'recognised',
    'failed',
    'cancelled',
    'left-out',
    'not-needed',
    'impossible',
  ]),
  /** One sentence. */
  why: z.string(),
  /** From 0 to 1, of one that is under way. */
  fraction: z.number().nullable(),
  /** The run of the step that makes it, as `/v1/runs/{id}` names it; null before it was begun. */
  run: z.string().nullable(),
  /** What came of it, and what the plan had said before; null before it is made. */
  made: z
    .object({
      bytes: z.number(),
      seconds: z.number(),
      encoder: z.string(),
      predicted: z.object({ bytes: Estimate, seconds: Estimate }),
    })
    .nullable(),
});
export type ClipRendering = z.output<typeof ClipRendering>;

/** The last run of the step that makes proxies on a clip, as far as it counts here. */
export interface RenderingRun {
  readonly id: string;
  readonly state: 'waiting' | 'running' | 'done' | 'skipped' | 'failed' | 'cancelled';
  readonly why: string;
  readonly output: unknown;
  /** Why it failed, and what it found. */
  readonly sentences: readonly string[];
  readonly fraction: number | null;
  readonly isHeldUp: boolean;
  readonly isRecognised: boolean;
  /** Milliseconds that it stood still. */
  readonly heldUpMs: number;
}

/** How a clip's proxy stands, from its plan, how that stands, and its last run. */
export function renderingOf(
  plan: ClipPlan,
  run: RenderingRun | null,
  { standing, isUsed }: { readonly standing: PlanStanding['state']; readonly isUsed: boolean },
): ClipRendering {
  const none = { fraction: null, run: run?.id ?? null, made: null };
  if (plan.state !== 'planned') return { ...none, state: plan.state, why: plan.why };
  const rendered = RenderedProxy.safeParse(run?.output).data ?? null;
  // What was made after an earlier plan is made anew.
  const isOther = rendered !== null && !isSame(rendered.target, plan.proxy);
  if (run === null || run.state === 'waiting' || run.state === 'skipped' || isOther)
    return { ...none, ...(isUsed ? waiting(standing) : NOBODY) };
  if (run.state === 'running') {
    const { fraction, isHeldUp, why } = run;
    return { ...none, state: isHeldUp ? 'held-up' : 'rendering', why: isHeldUp ? HELD_UP : why, fraction };
  }
  if (run.state === 'cancelled') return { ...none, state: 'cancelled', why: run.why };
  const made = rendered === null ? null : madeOf(rendered, run.heldUpMs);
  if (run.state === 'failed' || rendered === null || rendered.file === null)
    return { ...none, state: 'failed', why: run.sentences.join(' ') || run.why, made };
  return run.isRecognised
    ? { ...none, state: 'recognised', why: 'It was there, made by an earlier service.', made }
    : { ...none, state: 'made', why: 'It cuts back to its original.', made };
}

/** What a proxy came to. The time that its run stood still is no work. */
export function madeOf(
  { measured, encoder, predicted }: RenderedProxy,
  heldUpMs: number,
): NonNullable<ClipRendering['made']> {
  const { bytes, seconds } = measured;
  return { bytes, seconds: Math.max(0, seconds - heldUpMs / 1000), encoder, predicted };
}

const NOBODY = { state: 'planned', why: 'No plugin that makes proxies is in use.' } as const;
const HELD_UP = 'It stands still while drives are being taken in.';

function waiting(standing: PlanStanding['state']): Pick<ClipRendering, 'state' | 'why'> {
  if (standing === 'held') return { state: 'waiting', why: 'The plan is held.' };
  if (standing === 'asked') return { state: 'waiting', why: 'The plan waits to be approved.' };
  return { state: 'waiting', why: 'It waits for its turn.' };
}

function isSame(one: unknown, other: unknown): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}
