import type { Instant, Severity } from '@quayside/shoot';
import type { Message, MessageKind } from '../message.ts';

/** A message of a kind as it might be, for previews and tests of channels. It never claims anything about a real drive. */
export function sampleMessage(kind: MessageKind, now: Instant): Message {
  const { severity, sentence, subject = 'wheel-20260301-ef15cc', recorder = null } = SAMPLES[kind];
  const isOfShoot = !['drive.seen', 'disk.low', 'disk.roomy', 'service.started', 'channel.failed', 'test'].includes(
    kind,
  );
  return { kind, severity, subject, shootId: isOfShoot ? '2026-03-01' : null, recorder, sentence, at: now };
}

interface Sample {
  readonly severity: Severity;
  readonly sentence: string;
  readonly subject?: string;
  readonly recorder?: string;
}

const SAMPLES: Readonly<Record<MessageKind, Sample>> = {
  'drive.seen': {
    severity: 'info',
    subject: 'exfat-1a2b-3c4d',
    sentence: 'A volume is there: WHEEL (exfat 1A2B-3C4D) at /media/WHEEL.',
  },
  'drive.pulled': {
    severity: 'warning',
    recorder: 'wheel',
    sentence:
      'HOLD the drive of wheel (WHEEL), do not record over it: The drive left before its footage was proven. Connect it again; the work goes on by itself. 40 % of its work is done.',
  },
  'roll.clear': {
    severity: 'info',
    recorder: 'wheel',
    sentence:
      'The drive of wheel (WHEEL) is clear: all 12 files of roll wheel-20260301-ef15cc are proven. It may be recorded over. Look at the verdict, and at its time, before you record on it.',
  },
  'roll.hold': {
    severity: 'critical',
    recorder: 'wheel',
    sentence:
      'HOLD the drive of wheel (WHEEL), do not record over it: Both destinations lie on one device, which counts as one copy.',
  },
  'roll.finding': {
    severity: 'critical',
    recorder: 'wheel',
    sentence: '"CLIPS/A001.mov" cannot be read from the drive. Look at the drive on its recorder before anything else.',
  },
  'copy.bad': {
    severity: 'warning',
    recorder: 'wheel',
    sentence: 'A copy of roll wheel-20260301-ef15cc at backup failed its verification; it is made anew by itself.',
  },
  'copy.repaired': {
    severity: 'info',
    recorder: 'wheel',
    sentence: 'The copies of roll wheel-20260301-ef15cc at backup that were bad are made anew and proven.',
  },
  'take.finding': {
    severity: 'warning',
    subject: '2026-03-01',
    sentence:
      'Recorder hands is missing from the take of 10:12:04. Look whether it recorded while the set still stands.',
  },
  'shoot.complete': {
    severity: 'info',
    subject: '2026-03-01',
    sentence: 'Shoot 2026-03-01 is closed, and all 5 of its rolls are clear.',
  },
  'disk.low': {
    severity: 'warning',
    subject: 'backup',
    sentence: 'Destination backup is nearly full: 80 GiB are free of 4 TiB. Make room before the next drives come.',
  },
  'disk.roomy': {
    severity: 'info',
    subject: 'backup',
    sentence: 'Destination backup has room again: 900 GiB are free.',
  },
  'service.started': { severity: 'info', subject: 'service', sentence: 'Quayside has started.' },
  'channel.failed': {
    severity: 'warning',
    subject: 'studio-mail',
    sentence: 'A message could not be sent by studio-mail: the server refused the connection. See to the channel.',
  },
  test: {
    severity: 'info',
    subject: 'test',
    sentence: 'Somebody asked for this test. Messages of Quayside arrive here.',
  },
};
