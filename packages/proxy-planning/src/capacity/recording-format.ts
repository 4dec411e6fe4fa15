import { QuaysideError, type Ratio } from '@quayside/shoot';
import { nearestRate } from '@quayside/timecode';
import { PictureSizeText, sizeOfText, type PictureSize } from '../policy/picture-size.ts';
import { DNXHR_PROFILES } from '../rates/dnxhr-rates.ts';
import { dnxhrFrame, proresFrame } from '../rates/picture-bytes.ts';
import { PRORES_PROFILES } from '../rates/prores-rates.ts';

/** What a recorder writes: how many bytes each second of it takes, sound counted. */
export interface RecordingFormat {
  /** As it was written. */
  readonly text: string;
  readonly size: PictureSize;
  readonly rate: Ratio;
  readonly soundChannels: number;
  readonly bytesPerSecond: number;
  /** False when the size is not in the publisher's table: a tenth more is possible. */
  readonly isListed: boolean;
}

/** 48 kHz, 24 bits. */
const BYTES_OF_CHANNEL = 48_000 * 3;
const CONTAINER = 1.01;
const MEGABITS = /^(\d+(?:\.\d+)?)mbps$/;

/**
 * Reads a format such as `prores-422-lt/3840x2160/23.976`, `dnxhr-hqx/1920x1080/25/8` (with eight channels of sound; two when none
 * are told) or `150mbps/3840x2160/50` for codecs of a bit rate of their own.
 * @throws QuaysideError `FORMAT_UNKNOWN` that says what is wrong and how a format is written.
 */
export function readRecordingFormat(text: string): RecordingFormat {
  const [codec = '', sizeText = '', rateText = '', channelText = '2', ...rest] = text.trim().toLowerCase().split('/');
  if (rest.length > 0) throw unknown(text, 'it has more than four parts');
  if (!PictureSizeText.safeParse(sizeText).success) throw unknown(text, `"${sizeText}" is no size such as 3840x2160`);
  const size = sizeOfText(sizeText);
  const near = nearestRate(rateText);
  if (!near.ok) throw unknown(text, `"${rateText}" is no rate such as 23.976`);
  const rate = { numerator: near.rate.numerator, denominator: near.rate.denominator };
  const soundChannels = Number(channelText);
  if (!/^\d{1,2}$/.test(channelText)) throw unknown(text, `"${channelText}" is no number of sound channels`);
  const frame = frameOf(codec, { size, perSecond: rate.numerator / rate.denominator });
  if (frame === null) throw unknown(text, `"${codec}" is no codec that is known here`);
  const picture = (frame.bytes * rate.numerator) / rate.denominator;
  return {
    text: text.trim(),
    size,
    rate,
    soundChannels,
    bytesPerSecond: Math.ceil((picture + soundChannels * BYTES_OF_CHANNEL) * CONTAINER),
    isListed: frame.isListed,
  };
}

function frameOf(
  codec: string,
  { size, perSecond }: { readonly size: PictureSize; readonly perSecond: number },
): { readonly bytes: number; readonly isListed: boolean } | null {
  const prores = PRORES_PROFILES.find((profile) => profile === codec);
  if (prores !== undefined) return proresFrame(prores, size);
  const dnxhr = DNXHR_PROFILES.find((profile) => profile === codec);
  if (dnxhr !== undefined) return dnxhrFrame(dnxhr, size);
  const megabits = Number(MEGABITS.exec(codec)?.[1]);
  return megabits > 0 ? { bytes: (megabits * 125_000) / perSecond, isListed: true } : null;
}

function unknown(text: string, why: string): QuaysideError {
  const codecs = [...PRORES_PROFILES, ...DNXHR_PROFILES].join(', ');
  return new QuaysideError({
    code: 'FORMAT_UNKNOWN',
    sentence:
      `"${text}" is no recording format: ${why}. Write CODEC/SIZE/RATE or CODEC/SIZE/RATE/CHANNELS, such as prores-422-lt/3840x2160/23.976; ` +
      `codecs are ${codecs}, and 150mbps for one of 150 megabits in a second.`,
    retry: 'never',
  });
}
