import type { Clearance, FileEntry, HoldReason, Instant, VolumeListing } from '@quayside/shoot';
import type { ClearancePolicy, DestinationEvidence, Evidence, ProvenCopy } from './evidence.ts';

type Sealed = Extract<DestinationEvidence, { state: 'sealed' }>;

/**
 * The verdict on a roll from what lies on the media at this moment: `clear` only when every file on the volume has a
 * proven copy on enough distinct devices. Anything unknown is `hold`, with every reason that the evidence gives.
 */
export function judgeClearance(evidence: Evidence, policy: ClearancePolicy, now: Instant): Clearance {
  const reasons = [...volumeReasons(evidence), ...destinationReasons(evidence)];
  if (evidence.volume.state !== 'listed') return hold(reasons, now);

  const sealed = evidence.destinations.filter((destination) => destination.state === 'sealed');
  const lacking = new Lacking();
  for (const file of evidence.volume.listing.files) {
    const counted = sealed.filter((destination) => lacking.counts(file, destination, policy));
    const devices =
      policy.sameDevice === 'accept' ? counted.length : new Set(counted.map((destination) => destination.device)).size;
    if (devices < Math.max(policy.copies, 1))
      lacking.tooFew(file, { counted: counted.length, devices, wanted: policy.copies });
  }
  // A destination that lacks something is a reason only when a file is short of copies for it: a third copy may be missing.
  if (lacking.isShort()) return hold([...reasons, ...lacking.reasons()], now);
  const blocking = reasons.filter((reason) => reason.destination === undefined);
  if (blocking.length > 0) return hold(reasons, now);
  return {
    verdict: 'clear',
    judgedAt: now,
    cautions: [
      ...specialCautions(evidence.volume.listing),
      ...neighbourCautions(evidence.volume.neighbours),
      ...cautions(sealed, policy),
      ...[...reasons, ...lacking.reasons()].map((reason) => reason.sentence),
    ],
  };
}

function volumeReasons({ volume }: Evidence): readonly HoldReason[] {
  if (volume.state === 'listed') return listingReasons(volume.listing);
  if (volume.state === 'away')
    return [
      {
        code: 'VOLUME_AWAY',
        sentence: `The drive is not there (${volume.why}). Connect it again, so that it can be compared with its copies.`,
      },
    ];
  return [
    {
      code: 'VOLUME_UNREADABLE',
      sentence: `The drive cannot be listed (${volume.why}). Check the drive and its cable.`,
    },
  ];
}

function listingReasons({ files, unreadable }: VolumeListing): readonly HoldReason[] {
  const reasons = unreadable.map(({ path, why }) => ({
    code: 'FILE_UNREADABLE',
    path,
    sentence: `"${path}" on the drive cannot be read (${why}), so nobody knows what it holds. Look at it on the recorder before anything else.`,
  }));
  if (files.length > 0) return reasons;
  return [
    ...reasons,
    { code: 'NO_FILES', sentence: 'The drive holds no file any more. Find out who emptied it before recording on it.' },
  ];
}

function destinationReasons({ destinations }: Evidence): readonly HoldReason[] {
  return destinations.flatMap((destination): readonly HoldReason[] => {
    const { name } = destination;
    switch (destination.state) {
      case 'sealed':
        return deviceReasons(name, destination.device);
      case 'away':
        return [
          {
            code: 'DESTINATION_AWAY',
            destination: name,
            sentence: `Destination ${name} is not there: ${destination.why}`,
          },
        ];
      case 'skipped':
        return [
          {
            code: 'DESTINATION_SKIPPED',
            destination: name,
            sentence: `Destination ${name} did not take this roll: ${destination.why}`,
          },
        ];
      case 'unsealed':
        return [
          {
            code: 'NOT_SEALED',
            destination: name,
            sentence: `At destination ${name} the roll has no sealed manifest: ${destination.why}`,
          },
        ];
      case 'damaged':
        return [
          {
            code: 'MANIFEST_DAMAGED',
            destination: name,
            sentence: `At destination ${name} the manifest cannot be relied on: ${destination.why}`,
          },
        ];
    }
  });
}

function deviceReasons(name: string, device: Sealed['device']): readonly HoldReason[] {
  return typeof device === 'number' ? [] : [{ ...UNCOUNTED[device](name), destination: name }];
}

const UNCOUNTED = {
  memory: (name) => ({
    code: 'DESTINATION_IN_MEMORY',
    sentence: `Destination ${name} lies in memory, so it is no copy. Point it at a drive.`,
  }),
  drive: (name) => ({
    code: 'DESTINATION_ON_DRIVE',
    sentence: `Destination ${name} lies on the same disk as the drive itself, so it is no copy. Point it at another disk.`,
  }),
  unknown: (name) => ({
    code: 'DEVICE_UNKNOWN',
    sentence: `It cannot be told on which device destination ${name} lies, so it is not counted beside another one. Point it at a drive of its own.`,
  }),
} as const satisfies Record<Exclude<Sealed['device'], number>, (name: string) => Pick<HoldReason, 'code' | 'sentence'>>;

/** Collects why files are short of copies: one reason per kind and destination, with the first file and how many. */
class Lacking {
  readonly #found = new Map<string, { readonly first: HoldReason; count: number }>();
  #isShort = false;

  /** Whether a destination's copy of the file counts; what speaks against it is noted. */
  counts(file: FileEntry, destination: Sealed, policy: ClearancePolicy): boolean {
    const { name } = destination;
    const copy = destination.copies.get(file.path);
    const about = { destination: name, path: file.path };
    if (copy === undefined)
      return this.#note({
        ...about,
        code: 'FILE_NOT_PROVEN',
        sentence: `"${file.path}" has no proven copy at ${name}. Keep the drive connected, or retry the roll.`,
      });
    if (!isSameFile(file, copy))
      return this.#note({
        ...about,
        code: 'FILE_CHANGED',
        sentence: `"${file.path}" on the drive is no longer the file that was copied to ${name}. Keep the drive connected until it is copied again.`,
      });
    if (!copy.isPresent)
      return this.#note({
        ...about,
        code: 'COPY_GONE',
        sentence: `The proven copy of "${file.path}" at ${name} is gone or was changed. Find out why, then retry the roll.`,
      });
    if (copy.method === 'cached' && policy.cachedReadBack === 'hold')
      return this.#note({
        ...about,
        code: 'READ_BACK_CACHED',
        sentence: `The copy of "${file.path}" at ${name} could not be verified past the cache. Read it back on another machine, or accept such read-backs in the configuration.`,
      });
    return (
      typeof destination.device === 'number' || (destination.device === 'unknown' && policy.sameDevice === 'accept')
    );
  }

  tooFew(
    file: FileEntry,
    found: { readonly counted: number; readonly devices: number; readonly wanted: number },
  ): void {
    this.#isShort = true;
    if (found.counted > found.devices && found.counted >= found.wanted) {
      this.#note({
        code: 'ONE_DEVICE',
        path: file.path,
        sentence: `The copies of "${file.path}" lie on ${found.devices} device only; two destinations on one device count once, and ${found.wanted} are wanted. Put a destination on another drive.`,
      });
      return;
    }
    this.#note({
      code: 'TOO_FEW_COPIES',
      path: file.path,
      sentence: `"${file.path}" has ${found.devices} proven ${found.devices === 1 ? 'copy' : 'copies'} on separate devices; ${found.wanted} are wanted. See to what is said of each destination, then retry the roll.`,
    });
  }

  isShort(): boolean {
    return this.#isShort;
  }

  reasons(): readonly HoldReason[] {
    return [...this.#found.values()].map(({ first, count }) =>
      count === 1 ? first : { ...first, sentence: `${first.sentence} (and ${count - 1} more like it)` },
    );
  }

  #note(reason: HoldReason): false {
    const key = `${reason.code} ${reason.destination ?? ''}`;
    const known = this.#found.get(key);
    if (known === undefined) this.#found.set(key, { first: reason, count: 1 });
    else known.count += 1;
    return false;
  }
}

function isSameFile(file: FileEntry, copy: ProvenCopy): boolean {
  return file.sizeInBytes === copy.sizeInBytes && file.modifiedMs === copy.modifiedMs;
}

/** A link or a pipe holds no footage of its own, but the operator may have meant something by it. */
function specialCautions({ specials }: VolumeListing): readonly string[] {
  if (specials.length === 0) return [];
  const [first] = specials;
  return [
    `${specials.length} links or special files were not copied, among them "${first?.path}". Look at them before the drive is recorded over.`,
  ];
}

/** Who formats a disk formats all of it. */
function neighbourCautions(paths: readonly string[]): readonly string[] {
  if (paths.length === 0) return [];
  return [
    `On the same disk lies what is mounted at ${paths.join(' and ')}, of which this says nothing. Look at its own verdict before the disk is formatted.`,
  ];
}

function cautions(sealed: readonly Sealed[], policy: ClearancePolicy): readonly string[] {
  const groups = new Set(sealed.map((destination) => destination.device));
  const said: string[] = [];
  if (policy.copies < 2) said.push('Only one copy is asked for; footage wants two on separate devices.');
  if (policy.sameDevice === 'accept' && groups.size < policy.copies)
    said.push('The copies lie on one device, as the configuration accepts; one broken drive loses them all.');
  const isCached = sealed.some((destination) =>
    [...destination.copies.values()].some((copy) => copy.method === 'cached'),
  );
  if (isCached) said.push('Some copies could not be verified past the cache, as the configuration accepts.');
  return said;
}

function hold(reasons: readonly HoldReason[], now: Instant): Clearance {
  const [first, ...rest] = reasons;
  if (first === undefined)
    return {
      verdict: 'hold',
      judgedAt: now,
      reasons: [{ code: 'UNKNOWN', sentence: 'The verdict could not be given. Retry the roll.' }],
    };
  return { verdict: 'hold', judgedAt: now, reasons: [first, ...rest] };
}
