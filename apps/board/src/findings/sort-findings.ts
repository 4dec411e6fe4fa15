import type { Finding } from '../service/look-at-shoot.ts';

/** What nobody has seen yet comes first, then the graver, then the newer. */
export function sortFindings(findings: readonly Finding[]): readonly Finding[] {
  return findings.toSorted(
    (one, other) =>
      Number(one.acknowledged !== null) - Number(other.acknowledged !== null) ||
      GRAVITY[other.severity] - GRAVITY[one.severity] ||
      (one.at < other.at ? 1 : one.at > other.at ? -1 : 0),
  );
}

/** What a finding is about, in a few words. */
export function subjectOf({ subject, recorder }: Finding): string {
  // A clip's id is its roll and its path in it.
  const name = subject.kind === 'clip' ? subject.id.slice(subject.id.indexOf('/') + 1) : subject.id;
  const what = subject.path ?? name;
  return [recorder, `${subject.kind} ${what}`].filter((part) => part !== null).join(', ');
}

const GRAVITY = { info: 0, warning: 1, critical: 2 } as const;
