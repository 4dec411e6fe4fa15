import { Severity } from '@quayside/shoot';
import { z } from 'zod';

const Text = z.string().max(4000);
const Code = z.string().regex(/^[A-Z][A-Z0-9_]{0,63}$/);
const run = z.string().max(64);

/** A finding as a guest tells it, before it carries the plugin's name. */
export const GuestFinding = z.strictObject({
  code: Code,
  severity: Severity,
  subject: z.strictObject({ kind: z.enum(['clip', 'roll', 'shoot']), id: z.string().max(4096) }).nullable(),
  sentence: Text.min(1),
  remedy: Text.min(1),
});
export type GuestFinding = z.output<typeof GuestFinding>;

/** How a run went wrong as its process tells it. `code` is the step's own for `own`, and one of ours for the others. */
export const GuestTrouble = z.strictObject({
  kind: z.enum(['own', 'threw', 'denied', 'bad-config', 'bad-output', 'too-large', 'no-step']),
  code: Code.nullable(),
  text: Text,
  retry: z.enum(['never', 'later']),
});
export type GuestTrouble = z.output<typeof GuestTrouble>;

/** What a guest's process may say, a line of JSON each. Whoever says anything else is stopped. */
export const MessageFromGuest = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('ready') }),
  z.strictObject({ type: z.literal('broken'), text: Text, isDenied: z.boolean() }),
  z.strictObject({
    type: z.literal('described'),
    plugin: z.unknown(),
    configFaults: z.array(z.strictObject({ step: z.string().max(200), text: Text })).max(64),
  }),
  z.strictObject({ type: z.literal('log'), run, level: z.enum(['info', 'warn', 'error']), text: Text }),
  z.strictObject({
    type: z.literal('progress'),
    run,
    fraction: z.number().min(0).max(1),
    text: z.string().max(200).nullable(),
    secondsLeft: z.number().nonnegative().nullable(),
  }),
  z.strictObject({ type: z.literal('finding'), run, finding: GuestFinding }),
  z.strictObject({ type: z.literal('skipped'), run, why: Text, isAtRest: z.boolean() }),
  z.strictObject({ type: z.literal('done'), run, output: z.unknown(), isAtRest: z.boolean() }),
  z.strictObject({ type: z.literal('failed'), run, trouble: GuestTrouble, isAtRest: z.boolean() }),
]);
export type MessageFromGuest = z.output<typeof MessageFromGuest>;

/** The message in a line, or null when it is none. */
export function messageIn(line: string): MessageFromGuest | null {
  try {
    return MessageFromGuest.parse(JSON.parse(line));
  } catch {
    return null;
  }
}
