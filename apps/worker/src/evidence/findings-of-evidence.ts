import type { Evidence } from '@quayside/pipeline';
import type { Finding, Instant } from '@quayside/shoot';

/** What the evidence shows beyond the verdict: destinations that share a device count once, also where that is accepted. */
export function findingsOfEvidence(rollId: string, { destinations }: Evidence, now: Instant): readonly Finding[] {
  const sealed = destinations.filter((destination) => destination.state === 'sealed');
  const byDevice = Map.groupBy(sealed, ({ device }) => device);
  return [...byDevice].flatMap(([device, sharing]): readonly Finding[] => {
    if (typeof device !== 'number' || sharing.length < 2) return [];
    const names = sharing.map(({ name }) => name).toSorted();
    return [
      {
        code: 'ONE_DEVICE',
        severity: 'warning',
        subject: { kind: 'destination', id: names.join('+') },
        why: `Destinations ${names.join(' and ')} lie on one device and count as one copy of roll ${rollId}.`,
        remedy: 'Put one of them on another drive.',
        at: now,
      },
    ];
  });
}
