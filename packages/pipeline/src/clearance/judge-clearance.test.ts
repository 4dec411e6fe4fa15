import type { FileEntry, VolumeListing } from '@quayside/shoot';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ClearancePolicy, DestinationEvidence, Evidence, ProvenCopy } from './evidence.ts';
import { judgeClearance } from './judge-clearance.ts';

const NOW = '2026-11-25T10:00:00.000Z';
const STRICT: ClearancePolicy = { copies: 2, sameDevice: 'hold', cachedReadBack: 'hold' };
const FILE: FileEntry = { path: 'CLIPS/A.MOV', sizeInBytes: 10, modifiedMs: 1000 };

function listing(files: readonly FileEntry[] = [FILE]): VolumeListing {
  return { files: [...files], litterCount: 0, specials: [], unreadable: [] };
}

function proven(file: FileEntry, change: Partial<ProvenCopy> = {}): ProvenCopy {
  return {
    sizeInBytes: file.sizeInBytes,
    modifiedMs: file.modifiedMs,
    method: 'direct',
    storedPath: file.path,
    isPresent: true,
    ...change,
  };
}

function at(
  name: string,
  device: number | 'memory' | 'unknown',
  copies: readonly (readonly [string, ProvenCopy])[],
): DestinationEvidence {
  return { name, state: 'sealed', device, copies: new Map(copies), bad: [] };
}

function evidence(...destinations: readonly DestinationEvidence[]): Evidence {
  return { volume: { state: 'listed', listing: listing(), neighbours: [] }, destinations };
}

const primary = at('primary', 0, [[FILE.path, proven(FILE)]]);
const backup = at('backup', 1, [[FILE.path, proven(FILE)]]);

function codes(given: Evidence, policy = STRICT): readonly string[] {
  const judged = judgeClearance(given, policy, NOW);
  return judged.verdict === 'clear' ? ['clear'] : judged.reasons.map((reason) => reason.code);
}

describe('clear', () => {
  it('is given when every file has a proven copy on two devices', () => {
    expect(judgeClearance(evidence(primary, backup), STRICT, NOW)).toEqual({
      verdict: 'clear',
      judgedAt: NOW,
      cautions: [],
    });
  });

  it('is given when a third destination lacks the file, which is said', () => {
    const judged = judgeClearance(
      evidence(primary, backup, { name: 'vault', state: 'away', why: 'not mounted.' }),
      STRICT,
      NOW,
    );
    expect(judged).toMatchObject({ verdict: 'clear', cautions: ['Destination vault is not there: not mounted.'] });
  });

  it('says that links and special files were not copied', () => {
    const withLink = { ...listing(), specials: [{ path: 'link.mov', kind: 'link' as const }] };
    const judged = judgeClearance(
      { ...evidence(primary, backup), volume: { state: 'listed', listing: withLink, neighbours: [] } },
      STRICT,
      NOW,
    );
    expect(judged).toMatchObject({ verdict: 'clear', cautions: [expect.stringContaining('link.mov')] });
  });

  it('is given for two destinations on one device only when the configuration accepts it, with a caution', () => {
    const sameDevice = at('backup', 0, [[FILE.path, proven(FILE)]]);
    expect(codes(evidence(primary, sameDevice))).toEqual(['ONE_DEVICE']);
    expect(judgeClearance(evidence(primary, sameDevice), { ...STRICT, sameDevice: 'accept' }, NOW)).toMatchObject({
      verdict: 'clear',
      cautions: [expect.stringContaining('one device')],
    });
  });
});

describe('hold', () => {
  const cases: readonly (readonly [string, Evidence, readonly string[]])[] = [
    ['a file without a proven copy', evidence(primary, at('backup', 1, [])), ['FILE_NOT_PROVEN', 'TOO_FEW_COPIES']],
    [
      'a copy that is gone',
      evidence(primary, at('backup', 1, [[FILE.path, proven(FILE, { isPresent: false })]])),
      ['COPY_GONE', 'TOO_FEW_COPIES'],
    ],
    [
      'a file that is longer than what was copied',
      evidence(primary, at('backup', 1, [[FILE.path, proven(FILE, { sizeInBytes: 9 })]])),
      ['FILE_CHANGED', 'TOO_FEW_COPIES'],
    ],
    [
      'a file of another time than what was copied',
      evidence(primary, at('backup', 1, [[FILE.path, proven(FILE, { modifiedMs: 1001 })]])),
      ['FILE_CHANGED', 'TOO_FEW_COPIES'],
    ],
    [
      'a read-back that may have come from memory',
      evidence(primary, at('backup', 1, [[FILE.path, proven(FILE, { method: 'cached' })]])),
      ['READ_BACK_CACHED', 'TOO_FEW_COPIES'],
    ],
    [
      'a destination in memory',
      evidence(primary, at('backup', 'memory', [[FILE.path, proven(FILE)]])),
      ['DESTINATION_IN_MEMORY', 'TOO_FEW_COPIES'],
    ],
    [
      'a destination on an unknown device',
      evidence(primary, at('backup', 'unknown', [[FILE.path, proven(FILE)]])),
      ['DEVICE_UNKNOWN', 'TOO_FEW_COPIES'],
    ],
    [
      'a destination that is away',
      evidence(primary, { name: 'backup', state: 'away', why: 'x' }),
      ['DESTINATION_AWAY', 'TOO_FEW_COPIES'],
    ],
    [
      'a destination that skipped the roll',
      evidence(primary, { name: 'backup', state: 'skipped', why: 'x' }),
      ['DESTINATION_SKIPPED', 'TOO_FEW_COPIES'],
    ],
    [
      'a destination without a seal',
      evidence(primary, { name: 'backup', state: 'unsealed', why: 'x' }),
      ['NOT_SEALED', 'TOO_FEW_COPIES'],
    ],
    [
      'a damaged manifest',
      evidence(primary, { name: 'backup', state: 'damaged', why: 'x' }),
      ['MANIFEST_DAMAGED', 'TOO_FEW_COPIES'],
    ],
    ['no destination at all', evidence(), ['TOO_FEW_COPIES']],
    ['a drive that is away', { ...evidence(primary, backup), volume: { state: 'away', why: 'x' } }, ['VOLUME_AWAY']],
    [
      'a drive that cannot be listed',
      { ...evidence(primary, backup), volume: { state: 'unreadable', why: 'x' } },
      ['VOLUME_UNREADABLE'],
    ],
    [
      'a drive without files',
      { ...evidence(primary, backup), volume: { state: 'listed', listing: listing([]), neighbours: [] } },
      ['NO_FILES'],
    ],
    [
      'a file that cannot be read',
      {
        ...evidence(primary, backup),
        volume: {
          state: 'listed',
          listing: { ...listing(), unreadable: [{ path: 'B', why: 'EIO' }] },
          neighbours: [],
        },
      },
      ['FILE_UNREADABLE'],
    ],
  ];
  it.each(cases)('is given for %s', (_title, given, expected) => {
    expect(codes(given)).toEqual(expected);
  });

  it('names the first file and counts the others', () => {
    const files = ['A', 'B', 'C'].map((path) => ({ ...FILE, path }));
    const judged = judgeClearance(
      { volume: { state: 'listed', listing: listing(files), neighbours: [] }, destinations: [] },
      STRICT,
      NOW,
    );
    expect(judged).toMatchObject({
      reasons: [{ path: 'A', sentence: expect.stringMatching(/\(and 2 more like it\)$/) }],
    });
  });
});

it('taking any one proof away from a clear roll never leaves it clear', () => {
  const files = fc.uniqueArray(fc.string({ minLength: 1, maxLength: 8 }), { minLength: 1, maxLength: 6 });
  fc.assert(
    fc.property(files, fc.nat(), fc.constantFrom('absent', 'gone', 'changed', 'cached'), (paths, pick, fault) => {
      const entries = paths.map((path) => ({ ...FILE, path }));
      const victim = paths[pick % paths.length];
      const whole = entries.map((file) => [file.path, proven(file)] as const);
      const broken = whole.flatMap(([path, copy]) => {
        if (path !== victim) return [[path, copy] as const];
        if (fault === 'absent') return [];
        if (fault === 'gone') return [[path, { ...copy, isPresent: false }] as const];
        if (fault === 'changed') return [[path, { ...copy, modifiedMs: 0 }] as const];
        return [[path, { ...copy, method: 'cached' as const }] as const];
      });
      const volume = { state: 'listed', listing: listing(entries), neighbours: [] } as const;
      expect(codes({ volume, destinations: [at('primary', 0, whole), at('backup', 1, whole)] })).toEqual(['clear']);
      expect(codes({ volume, destinations: [at('primary', 0, whole), at('backup', 1, broken)] })).not.toEqual([
        'clear',
      ]);
    }),
  );
});
