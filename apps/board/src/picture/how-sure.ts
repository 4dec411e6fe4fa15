import type { HealthAnswer } from '@quayside/admin-api/page-answers';
import type { DriveLook, Link } from './drive-look.ts';
import { ageMs, type Moment } from './moment.ts';

/** A picture older than this says nothing about now. The page looks every three seconds, so three looks have then failed. */
export const OLD_AFTER_MS = 10_000;

/** Whether what is shown can be relied on now, and if not, why, in one sentence. */
export interface Sureness {
  readonly isSure: boolean;
  readonly ageMs: number | null;
  readonly why: string | null;
}

/**
 * A page out of sight is not sure: its clocks run slow there, and what it shows when it comes back must not be what it showed
 * when it went.
 */
export function sureWhenShown(sureness: Sureness, isShown: boolean): Sureness {
  if (isShown || !sureness.isSure) return sureness;
  return { ...sureness, isSure: false, why: 'The page was out of sight; it is looking again.' };
}

/**
 * Sure only when the last look went well, is young, and the service itself is awake to notice a change. Everything else, also
 * a page that has just been opened, is not sure.
 */
export function howSure(look: DriveLook | null, link: Link, now: Moment): Sureness {
  if (look === null) return { isSure: false, ageMs: null, why: link.state === 'lost' ? link.sentence : FIRST_LOOK };
  const age = ageMs(look.begunAt, now);
  const why = whyNot(look, link, age);
  return { isSure: why === null, ageMs: age, why };
}

function whyNot({ health }: DriveLook, link: Link, age: number): string | null {
  // Without the age, which counts on: the sentence is said aloud, once.
  if (link.state === 'lost') return `${link.sentence} No verdict is known now; the page tries again by itself.`;
  if (age > OLD_AFTER_MS) return 'The picture is old, so no verdict is known now; the page is looking again.';
  return whoSleeps(health);
}

/** Nobody who sleeps sees that a drive has changed. */
function whoSleeps(health: HealthAnswer): string | null {
  if (health.redis === 'away') return 'The service cannot reach its Redis. Wait until it has it back.';
  const names = (['watcher', 'worker'] as const).filter((name) => !health[name].alive);
  if (names.length === 0) return null;
  return `The ${names.join(' and the ')} of the service ${names.length === 1 ? 'gives' : 'give'} no sign of life. See the log of the service.`;
}

const FIRST_LOOK = 'The page takes its first look.';
