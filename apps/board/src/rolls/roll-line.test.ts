import { expect, it } from 'vitest';
import { CLEAR_ROLL, held, PROVEN_PLACE } from '../drives/look.test-support.ts';
import { rollLine } from './roll-line.ts';

const FAILURE = {
  code: 'DISK_FULL',
  sentence: 'Destination backup is full. Make room.',
  retry: 'destination',
} as const;

it('tells how far a roll is at each destination, and offers nothing where nothing is wrong', () => {
  expect(rollLine(CLEAR_ROLL, null)).toMatchObject({
    verdict: 'clear',
    size: '12 files, 8.0 GB',
    places: ['primary: 12 of 12 proven, sealed', 'backup: 12 of 12 proven, sealed'],
    failures: [],
    canRetry: false,
    canJudge: false,
  });
});

it('tells each failure once, and offers to try again', () => {
  const roll = {
    ...CLEAR_ROLL,
    activity: 'copying' as const,
    clearance: held('IN_PROGRESS', 'Wait.'),
    destinations: {
      primary: PROVEN_PLACE,
      backup: { ...PROVEN_PLACE, failure: FAILURE, sealedGeneration: null, verifiedFiles: 3 },
    },
  };
  const place = { destination: 'backup', parcel: 1, firstPath: 'a', fileCount: 1 } as const;
  const failed = { ...place, step: 'ingest', run: 'ingest-1', failure: FAILURE } as const;
  const other = { ...failed, fileCount: 3, step: 'checksum', run: 'checksum-2' } as const;
  const detail = { ...roll, fingerprint: 'f', parcelCount: 3, failures: [failed, failed], findings: [] };
  expect(rollLine(roll, detail)).toMatchObject({
    verdict: 'hold (IN_PROGRESS)',
    failures: ['Destination backup is full. Make room.'],
    canRetry: true,
    canJudge: false,
  });
  expect(rollLine(roll, detail).failedRuns).toEqual([]);
  expect(rollLine(roll, { ...detail, failures: [failed, other] }).failedRuns).toEqual([
    { id: 'ingest-1', what: 'ingest of a at backup' },
    { id: 'checksum-2', what: 'checksum of a and 2 more at backup' },
  ]);
  const skipped = { ...PROVEN_PLACE, standing: 'skipped' as const };
  expect(rollLine({ ...roll, destinations: { backup: skipped } }, null).places).toEqual([
    'backup: takes nothing of it',
  ]);
});

it('offers both for a roll that is held at rest, and no judging while its drive is away', () => {
  const roll = { ...CLEAR_ROLL, clearance: held('COPY_GONE', 'A copy is gone.') };
  expect(rollLine(roll, null)).toMatchObject({ canRetry: true, canJudge: true });
  expect(rollLine({ ...roll, drivePresent: false }, null)).toMatchObject({ canRetry: true, canJudge: false });
});
