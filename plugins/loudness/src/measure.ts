import { defineStep } from '@quayside/step-sdk';
import { z } from 'zod';
import { findFaults } from './find-faults.ts';
import { measureTracks } from './measure-tracks.ts';
import { TrackLoudness } from './track-loudness.ts';

/** Measures each sound track of a clip in one reading of the file, by ffmpeg. */
export const measure = defineStep({
  name: 'measure',
  scope: 'clip',
  description: 'Integrated loudness, loudness range and true peak of each sound track.',
  after: ['probe'],
  asks: ['child-processes'],
  // A clip of some hours is read at the pace of its disk, and the memory is ffmpeg's, which does not count.
  limits: { seconds: 4 * 3600, memoryMb: 256, outputMb: 1 },
  config: z.object({
    /** The program that measures, as it is found. */
    ffmpeg: z.string().min(1).default('ffmpeg'),
    /** A channel whose highest sample is below this is silent, in dBFS. */
    silenceBelow: z.number().min(-144).max(0).default(-60),
    /** A channel whose highest samples are above this and stand in a row is clipped, in dBFS. */
    clippingAbove: z.number().min(-6).max(0).default(-0.1),
  }),
  output: z.object({ tracks: z.array(TrackLoudness).readonly() }),
  when: ({ subject }) => subject.clip.facts.sound.length > 0 || 'It has no sound.',
  async run({ subject: { clip }, config, copies, report, log, progress, signal }) {
    const tracks = await measureTracks(
      { ffmpeg: config.ffmpeg, file: copies.of(clip), trackCount: clip.facts.sound.length },
      {
        signal,
        onSecond: (seconds) => {
          const whole = (clip.facts.durationMs ?? 0) / 1000;
          if (whole > 0)
            progress({ fraction: Math.min(1, seconds / whole), text: `${Math.floor(seconds)} s measured` });
        },
      },
    );
    for (const { track, integrated, range, truePeak } of tracks)
      log.info(`Track ${track + 1}: ${shown(integrated)} LUFS, range ${range} LU, true peak ${shown(truePeak)} dBTP.`);
    for (const finding of tracks.flatMap((track) => findFaults(clip.path, track, config))) report.finding(finding);
    return { tracks };
  },
});

function shown(level: number | null): string {
  return level === null ? 'none' : level.toFixed(1);
}
