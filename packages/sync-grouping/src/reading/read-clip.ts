import type { Clip, SoundFacts } from '@quayside/shoot';
import { parseLabel } from '@quayside/timecode';
import type { UngroupedCode } from '../grouping-result.ts';
import { ticksAtUnit } from '../ticks.ts';
import { labelRateOf } from './label-rate.ts';
import { recordedAt } from './recorded-at.ts';
import type { TimedClip } from './timed-clip.ts';

/** A clip that can be placed, or why it cannot. */
export type ClipReading =
  | { readonly ok: true; readonly timed: TimedClip }
  | { readonly ok: false; readonly clip: Clip; readonly code: UngroupedCode; readonly why: string };

/** Reads rate, first label and length from a clip's facts. Guesses nothing: what is missing is said. */
export function readClip(clip: Clip): ClipReading {
  const { facts } = clip;
  if (facts.kind === 'picture' && facts.picture !== null) return readPicture(clip, facts.picture);
  const [sound] = facts.sound;
  if (facts.kind === 'sound' && sound !== undefined) return readSound(clip, sound);
  if (facts.damage.length > 0) return refuseAsDamaged(clip);
  return refuse(clip, 'NO_MEDIA', 'It is neither picture nor sound; it was copied and needs no group.');
}

function readPicture(clip: Clip, picture: NonNullable<Clip['facts']['picture']>): ClipReading {
  const label = clip.facts.startTimecode;
  if (label === null) return refuseWithoutTimecode(clip);
  if (picture.rate === null)
    return refuse(clip, 'NO_RATE', 'The file names no frame rate, so its timecode cannot be counted.');
  const rate = labelRateOf(picture.rate, /[;.]/.test(label));
  if (rate === null) {
    const given = `${picture.rate.numerator}/${picture.rate.denominator}`;
    return refuse(clip, 'NO_RATE', `No timecode is defined at ${given} frames per second; place it by sound.`);
  }
  const reading = parseLabel(label, rate, { mark: 'ignored' });
  if (!reading.ok) return refuse(clip, 'BAD_TIMECODE', reading.fault.sentence);
  const length = picture.frameCount ?? unitsOf(clip, rate.numerator / rate.denominator);
  if (length === null || length === 0) return refuseWithoutLength(clip);
  const lengthTicks = ticksAtUnit(length, rate);
  const ticks = ticksAtUnit(reading.count, rate);
  const { count } = reading;
  const unitRate = { numerator: rate.numerator, denominator: rate.denominator };
  const shared = { clip, recordedAt: recordedAt(clip), unit: 'frames', unitRate, length, lengthTicks } as const;
  return { ok: true, timed: { ...shared, rate, count, ticks, ticksAtStampRate: null } };
}

function readSound(clip: Clip, sound: SoundFacts): ClipReading {
  const { wave, startTimecode } = clip.facts;
  const rate = wave?.timecodeRate == null ? null : labelRateOf(wave.timecodeRate, wave.isDropFrame === true);
  // EBU Tech 3285: the time reference of `bext` is authoritative; iXML's own count only stands in for it.
  const samples = wave?.timeReference ?? wave?.samplesSinceMidnight ?? null;
  const label =
    samples === null && startTimecode !== null && rate !== null
      ? parseLabel(startTimecode, rate, { mark: 'ignored' })
      : null;
  if (samples === null && label === null) return refuseWithoutTimecode(clip);
  if (label?.ok === false) return refuse(clip, 'BAD_TIMECODE', label.fault.sentence);
  if (sound.sampleRate === null)
    return refuse(clip, 'NO_RATE', 'The file names no sample rate, so its time cannot be counted.');
  const length = sound.sampleCount ?? unitsOf(clip, sound.sampleRate);
  if (length === null || length === 0) return refuseWithoutLength(clip);
  const unitRate = { numerator: sound.sampleRate, denominator: 1 };
  const ticks = samples === null ? ticksAtUnit(label?.count ?? 0, rate ?? unitRate) : ticksAtUnit(samples, unitRate);
  const stampRate = wave?.timestampSampleRate ?? sound.sampleRate;
  const stamped = wave?.samplesSinceMidnight ?? samples;
  const ticksAtStampRate =
    stampRate === sound.sampleRate || stamped === null
      ? null
      : ticksAtUnit(stamped, { numerator: stampRate, denominator: 1 });
  const shared = { clip, recordedAt: recordedAt(clip), unit: 'samples', unitRate, length } as const;
  return {
    ok: true,
    timed: { ...shared, lengthTicks: ticksAtUnit(length, unitRate), rate, count: null, ticks, ticksAtStampRate },
  };
}

function unitsOf(clip: Clip, perSecond: number): number | null {
  return clip.facts.durationMs === null ? null : Math.round((clip.facts.durationMs * perSecond) / 1000);
}

function refuseWithoutTimecode(clip: Clip): ClipReading {
  return refuse(clip, 'NO_TIMECODE', 'The file holds no timecode; line it up by sound or a clap.');
}

function refuseWithoutLength(clip: Clip): ClipReading {
  if (clip.facts.damage.length > 0) return refuseAsDamaged(clip);
  return refuse(clip, 'NO_LENGTH', 'The file does not say how long it is, or holds nothing.');
}

function refuseAsDamaged(clip: Clip): ClipReading {
  const why = clip.facts.damage.map((damage) => damage.why).join(' ');
  return refuse(clip, 'DAMAGED', `It cannot be placed as it is damaged: ${why}`);
}

function refuse(clip: Clip, code: UngroupedCode, why: string): ClipReading {
  return { ok: false, clip, code, why };
}
