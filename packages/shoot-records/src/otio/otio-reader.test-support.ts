import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';

const READER = fileURLToPath(new URL('../../.otio-reader/read-timeline', import.meta.url));

/** Why tests with the standard's own library are skipped here, or null. */
export const NO_READER = existsSync(READER)
  ? null
  : 'skipped: no OpenTimelineIO reader; packages/shoot-records/otio-reader/make-reader.sh makes one';

const Time = z.object({ value: z.number(), rate: z.number() });
const Range = z.object({ start: Time, duration: Time });
const Labels = z.object({ NDF: z.string().nullable(), DF: z.string().nullable() });

const ReadItem = z.object({
  schema: z.string(),
  name: z.string(),
  rangeInParent: Range,
  trimmedRange: Range,
  availableRange: Range.optional(),
  labels: Labels.optional(),
  key: z.string().optional(),
  url: z.string().nullable().optional(),
});

/** A timeline as the library understands it; `rewritten` is the library's own JSON of it. */
const ReadTimeline = z.object({
  name: z.string(),
  globalStartTime: Time,
  labels: Labels,
  duration: Time,
  survivesRoundTrip: z.boolean(),
  rewritten: z.object({ tracks: z.object({ children: z.array(z.object({ children: z.array(z.unknown()) })) }) }),
  tracks: z.array(z.object({ name: z.string(), kind: z.string(), items: z.array(ReadItem) })),
});
export type ReadTimeline = z.output<typeof ReadTimeline>;
export type ReadItem = z.output<typeof ReadItem>;
export type ReadTime = z.output<typeof Time>;

/** Hands the files to the standard's own library and gives what it reads; an error of the library is thrown. */
export function readTimelines(files: ReadonlyMap<string, string>): ReadonlyMap<string, ReadTimeline> {
  const folder = mkdtempSync(join(tmpdir(), 'otio-'));
  try {
    const names = [...files.keys()];
    for (const [name, text] of files) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), text);
    }
    const lines = execFileSync(
      READER,
      names.map((name) => join(folder, name)),
      { encoding: 'utf8', maxBuffer: 2 ** 28 },
    ).split('\n');
    return new Map(names.map((name, at) => [name, ReadTimeline.parse(JSON.parse(lines[at] ?? 'null'))]));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Every clip on a timeline's tracks, with what we wrote of it in our own namespace as the library gave it back. */
export function clipsRead(timeline: ReadTimeline): readonly {
  readonly track: string;
  readonly kind: string;
  readonly item: ReadItem;
  readonly written: WrittenClip;
}[] {
  return timeline.tracks.flatMap((track, at) =>
    track.items.flatMap((item, place) => {
      if (item.schema !== 'Clip') return [];
      const raw = timeline.rewritten.tracks.children[at]?.children[place];
      const { metadata } = z.object({ metadata: z.object({ quayside: WrittenClip }) }).parse(raw);
      return [{ track: track.name, kind: track.kind, item, written: metadata.quayside }];
    }),
  );
}

const WrittenClip = z.object({
  clip_id: z.string(),
  path: z.string(),
  is_drop_frame: z.boolean(),
  offset: z.object({ numerator: z.number(), denominator: z.number() }),
});
type WrittenClip = z.output<typeof WrittenClip>;

export function secondsOf({ value, rate }: ReadTime): number {
  return value / rate;
}
