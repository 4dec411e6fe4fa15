import {
  type Finding,
  type Instant,
  isClockUnset,
  type Severity,
  type Volume,
  type VolumeListing,
} from '@quayside/shoot';
import type { Chosen } from './choose-destinations.ts';
import { CLOCK_TOLERANCE_MS } from './clock-tolerance.ts';

export interface Seen {
  readonly rollId: string;
  readonly volume: Volume;
  readonly listing: VolumeListing;
  readonly destinations: readonly Chosen[];
  readonly now: Instant;
}

/** What a person must know of a volume before any of it is copied. */
export function findingsOfListing(seen: Seen): readonly Finding[] {
  return [
    ...identityFindings(seen),
    ...specialFindings(seen),
    ...unreadableFindings(seen),
    ...clockFindings(seen),
    ...destinationFindings(seen),
  ];
}

function identityFindings({ volume, rollId, now }: Seen): readonly Finding[] {
  if (volume.identity.basis !== 'label') return [];
  const subject = { kind: 'volume', id: volume.identity.key } as const;
  return [
    make(
      { code: 'WEAK_IDENTITY', severity: 'warning', subject, now },
      `The drive of roll ${rollId} can only be told by its label and size, which another drive may share.`,
      'Format it on its recorder once, so that it gets an identity, when its footage is clear.',
    ),
  ];
}

function specialFindings({ listing, rollId, now }: Seen): readonly Finding[] {
  return listing.specials.map(({ path, kind }) =>
    make(
      { code: 'SPECIAL_FILE', severity: 'warning', subject: { kind: 'clip', id: rollId, path }, now },
      `"${path}" is a ${kind}, not a file; it is neither followed nor copied.`,
      'If it stands for footage, copy that by hand.',
    ),
  );
}

function unreadableFindings({ listing, rollId, now }: Seen): readonly Finding[] {
  return listing.unreadable.map(({ path, why }) =>
    make(
      { code: 'FILE_UNREADABLE', severity: 'critical', subject: { kind: 'clip', id: rollId, path }, now },
      `"${path}" cannot be read: ${why}.`,
      'The roll holds; look at the drive on its recorder before anything else.',
    ),
  );
}

function clockFindings({ listing, rollId, now }: Seen): readonly Finding[] {
  const times = listing.files.map((file) => file.modifiedMs);
  const subject = { kind: 'roll', id: rollId } as const;
  const newest = times.reduce((latest, time) => Math.max(latest, time), 0);
  if (newest > Date.parse(now) + CLOCK_TOLERANCE_MS) {
    return [
      make(
        { code: 'CLOCK_BEFORE_FOOTAGE', severity: 'warning', subject, now },
        `The newest file is dated ${new Date(newest).toISOString()}, later than this computer's clock.`,
        'Set the clock that is wrong; the roll is filed under today.',
      ),
    ];
  }
  if (isClockUnset(newest)) {
    return [
      make(
        { code: 'RECORDER_CLOCK_UNSET', severity: 'warning', subject, now },
        `The newest file is dated ${new Date(newest).toISOString()}, so the recorder's clock was not set.`,
        'Set the clock of the recorder; the roll is filed under today.',
      ),
    ];
  }
  return [];
}

function destinationFindings({ destinations, rollId, now }: Seen): readonly Finding[] {
  return destinations.flatMap(({ destination, failure }) =>
    failure === null
      ? []
      : [
          make(
            { code: failure.code, severity: 'critical', subject: { kind: 'destination', id: destination.name }, now },
            failure.sentence,
            `Roll ${rollId} is not copied there until that is mended.`,
          ),
        ],
  );
}

function make(
  about: {
    readonly code: string;
    readonly severity: Severity;
    readonly subject: Finding['subject'];
    readonly now: Instant;
  },
  why: string,
  remedy: string,
): Finding {
  const { now, ...rest } = about;
  return { ...rest, why, remedy, at: now };
}
