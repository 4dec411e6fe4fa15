import type { Failure, RunRequest } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { eventOfFailure, eventOfOutput } from './events-of-run.ts';

const NOW = '2026-11-25T10:00:00.000Z';
const BROKEN: Failure = { code: 'MOVER_DIED', sentence: 'The mover died.', retry: 'later' };
const run = (step: string, inputs: RunRequest['inputs']): RunRequest => ({
  id: `${step}-1`,
  step,
  subject: 'wheel-1',
  inputs,
});
const ingest = run('ingest', { visit: 2, parcel: 3, destinations: ['primary', 'backup'], attempt: 0 });

describe('a run that ended well', () => {
  it('tells apart a name that could not be held from one that was taken', () => {
    const output = {
      visit: 2,
      parcel: 3,
      outcome: { primary: null },
      failedPaths: [],
      renamed: [
        { destination: 'primary', path: 'a\nb.mov', storedPath: 'a%0Ab.mov' },
        { destination: 'primary', path: 'A.MOV', storedPath: 'A__2.MOV' },
      ],
    };
    const event = eventOfOutput(ingest, output, NOW);
    expect(event).toMatchObject({ type: 'parcelCopied', findings: [{ code: 'NAME_MAPPED' }, { code: 'NAME_TAKEN' }] });
  });

  it('tells a bad copy that was to be copied on from what failed at the destinations', () => {
    const bad: Failure = { code: 'CHECKSUM_MISMATCH', sentence: 'It differs.', retry: 'copy' };
    const output = {
      visit: 2,
      parcel: 3,
      from: 'backup',
      fromFailure: bad,
      outcome: { primary: null },
      failedPaths: [{ destination: 'backup', path: 'A.MOV', failure: bad }],
      renamed: [],
    };
    expect(eventOfOutput(run('recopy', {}), output, NOW)).toMatchObject({
      type: 'parcelRecopied',
      from: 'backup',
      fromFailure: bad,
      outcome: { primary: null },
      findings: [{ code: 'CHECKSUM_MISMATCH', subject: { id: 'wheel-1@backup', path: 'A.MOV' } }],
    });
  });

  it('has a verdict take back what the media say is bad, with a finding', () => {
    const failure: Failure = { code: 'COPY_DAMAGED', sentence: 'It was found changed.', retry: 'copy' };
    const clearance = { verdict: 'hold', judgedAt: NOW, reasons: [{ code: 'FILE_NOT_PROVEN', sentence: 'No.' }] };
    const bad = [{ parcel: 1, destination: 'backup', failure }];
    const event = eventOfOutput(run('clearance', {}), { due: 4, clearance, findings: [], bad }, NOW);
    expect(event).toMatchObject({ type: 'judged', bad, findings: [{ code: 'COPY_DAMAGED' }] });
  });

  it('names each file that failed, and where', () => {
    const output = {
      visit: 2,
      parcel: 3,
      destination: 'backup',
      failure: BROKEN,
      failedPaths: [{ path: 'A.MOV', failure: BROKEN }],
    };
    expect(eventOfOutput(run('checksum', {}), output, NOW)).toMatchObject({
      type: 'parcelReadBack',
      failure: BROKEN,
      findings: [{ code: 'MOVER_DIED', subject: { id: 'wheel-1@backup', path: 'A.MOV' } }],
    });
  });
});

describe('a run that failed for good', () => {
  it('fails its parcel at every destination it was for', () => {
    expect(eventOfFailure(ingest, BROKEN, NOW)).toMatchObject({
      type: 'parcelCopied',
      visit: 2,
      parcel: 3,
      outcome: { primary: BROKEN, backup: BROKEN },
    });
  });

  it('means nothing when only the drive is away: the work waits', () => {
    expect(eventOfFailure(ingest, { ...BROKEN, code: 'SOURCE_GONE', retry: 'source' }, NOW)).toBeNull();
  });

  it('is a hold when the verdict could not be given', () => {
    expect(eventOfFailure(run('clearance', { due: 4 }), BROKEN, NOW)).toMatchObject({
      type: 'judged',
      due: 4,
      clearance: { verdict: 'hold' },
    });
  });

  it('leaves the roll alone when people could not be told', () => {
    expect(eventOfFailure(run('notification', {}), BROKEN, NOW)).toBeNull();
  });
});
