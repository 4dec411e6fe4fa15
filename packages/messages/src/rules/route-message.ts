import type { Instant, Severity } from '@quayside/shoot';
import type { Message } from '../message.ts';
import type { MessageRule, MessageSettings } from './message-settings.ts';
import { endOfQuiet } from './quiet-hours.ts';

/** That a message goes to a channel. */
export interface Addressee {
  readonly channel: string;
  /** Null: at once, as a delivery of its own. Else it is gathered with what waits for that channel, and goes then. */
  readonly dueAt: Instant | null;
}

/** By channel, when the next gathered delivery goes out. */
export type Waiting = Readonly<Record<string, Instant>>;

/**
 * Which channels a message goes to, and when. Each channel at most once: where several rules send it there, the earliest
 * counts. A test goes nowhere by rules.
 */
export function routeMessage(
  message: Message,
  settings: MessageSettings,
  { now, waiting }: { readonly now: Instant; readonly waiting: Waiting },
): readonly Addressee[] {
  if (message.kind === 'test') return [];
  return settings.channels.flatMap((channel) => {
    // That a channel does not work is of no use on that channel.
    if (message.kind === 'channel.failed' && message.subject === channel) return [];
    const due = settings.rules
      .filter((rule) => isMeant(rule, message, channel))
      .map((rule) => dueMs(rule, message, { nowMs: Date.parse(now), timeZone: settings.timeZone }));
    if (due.length === 0) return [];
    return [{ channel, dueAt: join(Math.min(...due), waiting[channel], now) }];
  });
}

function isMeant(rule: MessageRule, message: Message, channel: string): boolean {
  return (
    (rule.channels === undefined || rule.channels.includes(channel)) &&
    (rule.kinds === undefined || rule.kinds.includes(message.kind)) &&
    (rule.shoots === undefined || rule.shoots.some((pattern) => fits(pattern, message.shootId))) &&
    GRAVITY[message.severity] >= GRAVITY[rule.severity]
  );
}

/** 0 for at once. */
function dueMs(
  { digestMinutes, quiet }: MessageRule,
  { severity }: Message,
  { nowMs, timeZone }: { readonly nowMs: number; readonly timeZone: string },
): number {
  const gathered = nowMs + digestMinutes * 60_000;
  const isLoud = quiet === undefined || GRAVITY[severity] >= GRAVITY[quiet.unless];
  const due = isLoud ? gathered : endOfQuiet(gathered, quiet, timeZone);
  return due > nowMs ? due : 0;
}

/** What is gathered goes with what waits for the channel already, if that goes sooner. */
function join(due: number, next: Instant | undefined, now: Instant): Instant | null {
  if (due === 0) return null;
  const own = new Date(due).toISOString();
  return next !== undefined && next > now && next < own ? next : own;
}

function fits(pattern: string, shootId: string | null): boolean {
  if (shootId === null) return false;
  const [first = '', ...rest] = pattern.split('*');
  if (rest.length === 0) return pattern === shootId;
  if (!shootId.startsWith(first)) return false;
  const last = rest.pop() ?? '';
  let from = first.length;
  for (const part of rest) {
    const at = shootId.indexOf(part, from);
    if (at === -1) return false;
    from = at + part.length;
  }
  return shootId.length - last.length >= from && shootId.endsWith(last);
}

const GRAVITY: Readonly<Record<Severity | 'never', number>> = { info: 0, warning: 1, critical: 2, never: 3 };
