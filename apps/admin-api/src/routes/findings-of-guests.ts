import type { Finding, GuestRunSummary } from '@quayside/shoot';

interface GuestFinding extends Finding {
  readonly groupId: null;
  readonly recorder: null;
  readonly rollId: string | null;
  readonly clipIds: string[];
}

/** What plugins' steps found in a shoot, and which of them failed: one that fails quietly would be taken for one that found nothing. */
export function findingsOfGuests(runs: readonly GuestRunSummary[]): readonly GuestFinding[] {
  return runs.flatMap((run) => {
    const place = { groupId: null, recorder: null, rollId: run.rollId };
    const own = run.findings.map((finding) => ({
      ...finding,
      ...place,
      clipIds: finding.subject.kind === 'clip' ? [finding.subject.id] : [],
    }));
    if (run.failure === null) return own;
    const { code, sentence } = run.failure;
    const failed = {
      code,
      severity: 'warning' as const,
      subject: { ...run.subject, path: run.step },
      why: sentence,
      remedy: 'Clearance does not wait for it. See the log of its run (`quayside runs`).',
      at: run.endedAt ?? run.startedAt ?? new Date(0).toISOString(),
    };
    return [...own, { ...failed, ...place, clipIds: run.subject.kind === 'clip' ? [run.subject.id] : [] }];
  });
}
