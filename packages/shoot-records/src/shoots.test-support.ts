import type { Clip } from '@quayside/shoot';
import { countAtLabel, printLabel, RATES } from '@quayside/timecode';
import { clipOf, pictureOf, take } from './pottery-class.test-support.ts';
import type { ShootPicture } from './shoot-picture.ts';

/** Three takes of four cameras and a sound recording for each: nothing to find. */
export function cleanClass(): ShootPicture {
  return pictureOf([
    ...take('10:00:00:00', 100),
    clipOf({ recorder: 'desk', from: '09:59:58:00', seconds: 106 }),
    ...take('10:10:00:00', 200),
    clipOf({ recorder: 'desk', from: '10:09:58:00', seconds: 206 }),
    ...take('10:20:00:00', 50),
    clipOf({ recorder: 'desk', from: '10:19:58:00', seconds: 56 }),
  ]);
}

/** The clean class and a fourth take in which every kind of mistake was made; one more clip has no timecode. */
export function faultyClass(): ShootPicture {
  const clips: readonly Clip[] = [
    ...take('10:00:00:00', 100),
    clipOf({ recorder: 'desk', from: '09:59:58:00', seconds: 106 }),
    ...take('10:10:00:00', 200),
    clipOf({ recorder: 'desk', from: '10:09:58:00', seconds: 206 }),
    ...take('10:20:00:00', 50).filter((clip) => clip.recorder !== 'kiln'),
    clipOf({ recorder: 'desk', from: '10:19:58:00', seconds: 56 }),
    clipOf({ recorder: 'wheel', from: '10:30:00:00', seconds: 120 }),
    clipOf({ recorder: 'hands', from: '10:30:08:00', seconds: 112 }),
    clipOf({ recorder: 'wide', from: '10:30:00:00', seconds: 120, rate: RATES['25'] }),
    clipOf({ recorder: 'kiln', from: '10:30:00:00', seconds: 70 }),
    clipOf({ recorder: 'desk', from: '10:29:58:00', seconds: 126, rate: RATES['24'], wave: { timecodeRate: null } }),
    clipOf({ recorder: 'kiln', from: '10:40:00:00', seconds: 12, facts: { startTimecode: null } }),
  ];
  const picture = pictureOf(clips, {
    isHere: (clip) => !(clip.recorder === 'hands' && clip.path.includes('1030')),
    edit: ({ members }, at) =>
      at === 3
        ? {
            state: 'waiting',
            missing: [
              {
                clipId: members.find((member) => member.recorder === 'hands')?.clipId ?? null,
                why: 'The clip of hands has been copied to one destination of two.',
              },
            ],
          }
        : { state: 'editable' },
  });
  const findings = picture.findings.map((finding) =>
    finding.code === 'RECORDER_MISSING_FROM_TAKE'
      ? { ...finding, acknowledged: { by: 'the producer', at: '2026-11-25T18:05:00.000Z', note: 'Kiln was loading.' } }
      : finding,
  );
  return { ...picture, findings };
}

/** Fifty takes of four cameras over half a day, a sound file through each ten; kiln missed one take and was cut short in one. */
export function halfDay(): ShootPicture {
  const rate = RATES['23.976'];
  const clips: Clip[] = [];
  let count = countAtLabel('09:00:00:00', rate);
  let soundFrom = count;
  for (let at = 0; at < 50; at += 1) {
    // A spread that repeats: short tries, ordinary takes and a few long ones.
    const seconds = LENGTHS[at % LENGTHS.length] ?? 60;
    const cameras = take(printLabel(count, rate), seconds);
    clips.push(...(at === 13 ? cameras.filter((clip) => clip.recorder !== 'kiln') : cameras));
    count += seconds * rate.base;
    if (at % 10 === 9) {
      const from = printLabel(soundFrom, rate);
      clips.push(clipOf({ recorder: 'desk', from, seconds: (count - soundFrom) / rate.base + 4 }));
    }
    count += (at === 39 ? 4500 : 70 + (at % 4) * 45) * rate.base;
    if (at % 10 === 9) soundFrom = count;
  }
  return pictureOf(clips);
}

const LENGTHS = [35, 180, 240, 95, 300, 150, 620, 60, 210, 120];
