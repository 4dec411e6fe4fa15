import { z } from 'zod';
import { Instant } from './instant.ts';

export const Severity = z.enum(['info', 'warning', 'critical']);
export type Severity = z.output<typeof Severity>;

export const Subject = z.object({
  kind: z.enum(['service', 'shoot', 'volume', 'roll', 'clip', 'destination']),
  id: z.string(),
  path: z.string().optional(),
});
export type Subject = z.output<typeof Subject>;

/**
 * Something a person must know. `code` is stable and documented; `why` and `remedy` are one sentence each. The code of a
 * guest's finding begins with the plugin's name: `loudness/SILENT`.
 */
export const Finding = z.object({
  code: z.string().regex(/^(?:[a-z0-9][a-z0-9-]*\/)?[A-Z][A-Z0-9_]*$/),
  severity: Severity,
  subject: Subject,
  why: z.string(),
  remedy: z.string(),
  at: Instant,
});
export type Finding = z.output<typeof Finding>;

/** Two findings are the same matter when code and subject agree; the later one replaces the earlier. */
export function matterOf(finding: Pick<Finding, 'code' | 'subject'>): string {
  return [finding.code, finding.subject.kind, finding.subject.id, finding.subject.path ?? ''].join('\u0000');
}
