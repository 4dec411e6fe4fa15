import { Severity } from '@quayside/shoot';
import { z } from 'zod';
import type { Report, ReportedFinding } from '../step-run.ts';
import { TrialError } from './trial-error.ts';

// As a host takes them; it stops a step that says anything else.
const Finding = z.strictObject({
  code: z.string().regex(/^[A-Z][A-Z0-9_]{0,63}$/, 'capitals, digits and underscores'),
  severity: Severity,
  subject: z.strictObject({ kind: z.enum(['clip', 'roll', 'shoot']), id: z.string().max(4096) }).optional(),
  sentence: z.string().min(1).max(4000),
  remedy: z.string().min(1).max(4000),
});

/** A report that keeps what it is told, and throws a TrialError at what no host would take. */
export function collectFindings(): Report & { readonly findings: readonly ReportedFinding[] } {
  const findings: ReportedFinding[] = [];
  return {
    findings,
    finding: (finding) => {
      const checked = Finding.safeParse(finding);
      if (!checked.success) throw new TrialError(`No host takes this finding: ${z.prettifyError(checked.error)}`);
      findings.push(finding);
    },
  };
}
