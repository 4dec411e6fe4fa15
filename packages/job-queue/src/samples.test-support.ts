import type { FileEntry, MediaFacts, PipelineEvent, Roll, RunRequest, Volume } from '@quayside/shoot';

const NOW = '2026-05-04T10:00:00.000Z';

/** The facts of a file that is no media. */
export const NO_FACTS: MediaFacts = {
  kind: 'other',
  container: null,
  durationMs: null,
  picture: null,
  startTimecode: null,
  sound: [],
  wave: null,
  device: { make: null, model: null, serial: null },
  reel: null,
  created: null,
  damage: [],
};

export function sampleVolume(key: string): Volume {
  return {
    identity: {
      key,
      basis: 'uuid',
      uuid: '1234-ABCD',
      serial: null,
      label: 'WHEEL',
      fileSystem: 'exfat',
      sizeInBytes: 64_000_000_000,
    },
    mount: { path: '/media/wheel', mountId: '41', device: '8:17' },
    standing: 'settled',
    recorder: 'wheel',
    rollId: null,
    fileCount: 4,
    sizeInBytes: 1000,
    litterCount: 0,
    why: null,
    seenAt: NOW,
  };
}

export function sampleRoll(id: string, parcelCount = 1): Roll {
  const { identity, mount } = sampleVolume(`volume-${id}`);
  return {
    id,
    shootId: '2026-05-04',
    movingTo: null,
    wasSealed: false,
    recorder: 'wheel',
    role: 'camera',
    volume: identity,
    mount,
    visit: 1,
    fingerprint: 'c0ffee',
    fileCount: parcelCount,
    sizeInBytes: 1000 * parcelCount,
    litterCount: 0,
    facts: 'read',
    order: [],
    parcels: Array.from({ length: parcelCount }, (_, index) => ({
      index,
      firstPath: `CLIPS/wheel-${index}.mov`,
      fileCount: 1,
      sizeInBytes: 1000,
      copies: {
        primary: { state: 'verified' as const, attempt: 0, failure: null, repairs: 0, partBytes: 0 },
        backup: { state: 'verified' as const, attempt: 0, failure: null, repairs: 0, partBytes: 0 },
      },
    })),
    destinations: {
      primary: { ...UNSEALED },
      backup: { ...UNSEALED },
    },
    repairLimit: 2,
    findings: [],
    clearance: {
      verdict: 'hold',
      judgedAt: NOW,
      reasons: [{ code: 'NOT_COPIED', sentence: 'Nothing is copied yet.' }],
    },
    judgementDue: 0,
    judged: 0,
    told: null,
    absences: 0,
    clearedAt: null,
    openedAt: NOW,
    changedAt: NOW,
  };
}

const UNSEALED = {
  standing: 'taking',
  failure: null,
  sealedGeneration: null,
  sealAttempt: 0,
  readBackAt: null,
  reread: null,
} as const;

export function sampleFile(path: string): FileEntry {
  return { path, sizeInBytes: 1000, modifiedMs: 1_777_888_999_123.5 };
}

export function sampleEvent(subject: string): PipelineEvent {
  return { type: 'roll.listed', at: NOW, subject, sentence: `Roll ${subject} was listed.` };
}

export function sampleRun(id: string): RunRequest {
  return { id, step: 'ingest', subject: 'wheel-1', inputs: { parcel: 0 } };
}
