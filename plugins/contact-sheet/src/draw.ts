import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { defineStep, type ReportedFinding } from '@quayside/step-sdk';
import { z } from 'zod';
import type { Clip } from './clip.ts';
import { frameLabels } from './frame-labels.ts';
import { planSheets } from './plan-sheets.ts';
import { type SheetRow, sheetSvg } from './sheet-svg.ts';
import { spreadFrames } from './spread-frames.ts';
import { takeFrames } from './take-frames.ts';

const SheetFrame = z.object({
  clip: z.string(),
  /** Counted from 0; null when the clip's time stamps do not tell. */
  frame: z.number().int().nonnegative().nullable(),
  timecode: z.string().nullable(),
});

/** Draws a sheet for each sync group of a shoot: a row for each clip, with frames at even distances. */
export const draw = defineStep({
  name: 'draw',
  scope: 'shoot',
  description: 'A contact sheet for each sync group: frames of every clip with timecode and recorder.',
  after: ['sync-grouping'],
  asks: ['child-processes'],
  limits: { seconds: 3600, memoryMb: 512, outputMb: 2000 },
  config: z.object({
    /** The program that takes the frames, as it is found. */
    ffmpeg: z.string().min(1).default('ffmpeg'),
    framesPerClip: z.number().int().min(1).max(24).default(6),
    /** Of one frame, in pixels. */
    frameWidth: z.number().int().min(32).max(1920).multipleOf(2).default(320),
  }),
  output: z.object({
    sheets: z
      .array(z.object({ group: z.string().nullable(), file: z.string(), frames: z.array(SheetFrame).readonly() }))
      .readonly(),
  }),
  when: ({ subject }) => subject.clips.some(({ facts }) => facts.picture !== null) || 'No clip has a picture.',
  async run({ subject, config, copies, report, log, progress, scratchFolder, outputFolder, signal }) {
    const rowOf = async (clip: Clip): Promise<SheetRow> => {
      const rate = clip.facts.picture?.rate ?? null;
      const frames = rate === null ? [] : spreadFrames(clip, config.framesPerClip);
      if (rate === null || frames.length === 0) return { clip, frames: [] };
      const { ffmpeg, frameWidth: width } = config;
      const file = copies.of(clip);
      const taken = await takeFrames({ ffmpeg, file, rate, frames, width, folder: scratchFolder, signal });
      const labelOf = frameLabels(clip);
      return {
        clip,
        frames: taken.map((one) =>
          one === null ? null : { ...one, timecode: one.frame === null ? null : labelOf(one.frame) },
        ),
      };
    };
    const plans = planSheets(subject);
    const clipCount = plans.reduce((sum, { clips }) => sum + clips.length, 0);
    const sheets = [];
    let done = 0;
    for (const { group, file, clips } of plans) {
      const rows: SheetRow[] = [];
      for (const clip of clips) {
        rows.push(await rowOf(clip));
        done += 1;
        progress({ fraction: done / clipCount, text: `${done} of ${clipCount} clips` });
      }
      for (const row of rows) if (row.frames.includes(null)) report.finding(unreadable(row));
      await writeFile(join(outputFolder, file), sheetSvg({ shoot: subject.shoot.name, group, rows }, config));
      log.info(`${file} shows ${rows.length} clips.`);
      sheets.push({ group: group?.id ?? null, file, frames: rows.flatMap(framesOf) });
    }
    return { sheets };
  },
});

function framesOf({ clip, frames }: SheetRow): readonly z.output<typeof SheetFrame>[] {
  return frames.flatMap((one) => (one === null ? [] : [{ clip: clip.id, frame: one.frame, timecode: one.timecode }]));
}

function unreadable({ clip, frames }: SheetRow): ReportedFinding {
  const missing = frames.filter((one) => one === null).length;
  return {
    code: 'FRAMES_UNREADABLE',
    severity: 'warning',
    subject: { kind: 'clip', id: clip.id },
    sentence: `${missing} of ${frames.length} frames of ${clip.path} (${clip.recorder}) could not be read.`,
    remedy: 'Play the copy there. Its bytes are as they were on the drive, so look at the recorder and the drive too.',
  };
}
