import { z } from 'zod';

const Decibels = z.number();

/** One channel of a track, in the order of the file. Levels are of samples, in dBFS; null is digital silence. */
export const ChannelLevel = z.object({
  peak: Decibels.nullable(),
  rms: Decibels.nullable(),
  /** How many samples in a row stand at the channel's highest or lowest level, in the mean weighted by length; 1 is none in a row. */
  samplesAtPeak: z.number().nonnegative(),
});
export type ChannelLevel = z.output<typeof ChannelLevel>;

/** The loudness of one sound track after EBU R 128 (ITU-R BS.1770, EBU Tech 3341 and 3342), to a tenth. */
export const TrackLoudness = z.object({
  /** In the order of the file's sound tracks, from 0. */
  track: z.number().int().nonnegative(),
  /** Integrated loudness in LUFS; null when nothing of it is above the absolute gate of -70 LUFS. */
  integrated: Decibels.nullable(),
  /** Loudness range in LU. */
  range: Decibels,
  /** The highest true peak of its channels in dBTP; null is digital silence. */
  truePeak: Decibels.nullable(),
  channels: z.array(ChannelLevel),
});
export type TrackLoudness = z.output<typeof TrackLoudness>;
