/** What a run was made from, a digest for each part, so that it can be told which of them changed. */
export interface Fingerprint {
  readonly version: string;
  readonly config: string;
  readonly subject: string;
  readonly outputs: string;
}

/** In words what differs between two fingerprints, or null when nothing does. */
export function differenceOf(before: Fingerprint, now: Fingerprint): string | null {
  const changed = PARTS.filter(([part]) => before[part] !== now[part]).map(([, words]) => words);
  return changed.length === 0 ? null : `${changed.join(' and ')} changed since it last ran`;
}

const PARTS = [
  ['version', "the plugin's version"],
  ['config', 'its configuration'],
  ['subject', 'its subject'],
  ['outputs', 'what it comes after'],
] as const;
