import { addRationals, type Rational, rational, RATES } from '@quayside/timecode';
import { parse as parseCsv } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { anyShoot } from './any-shoot.test-support.ts';
import { unguardFormula } from './csv/guard-formula.ts';
import { RecordsJson } from './data/records-json.ts';
import { groupTimelineName, RECORD_NAMES, recordNames } from './record-names.ts';
import { renderShootRecords } from './render-shoot-records.ts';
import { faultyClass } from './shoots.test-support.ts';
import type { PicturedGroup, ShootPicture } from './shoot-picture.ts';

const Time = z.object({ value: z.number(), rate: z.number() });
const Range = z.object({ start_time: Time, duration: Time });
const Written = z.object({ clip_id: z.string(), path: z.string(), use: z.enum(['picture', 'sound']) });
const Item = z.object({
  OTIO_SCHEMA: z.string(),
  source_range: Range,
  metadata: z.object({ quayside: Written.optional() }),
  media_references: z.object({ DEFAULT_MEDIA: z.object({ target_url: z.string().optional() }) }).optional(),
});
const Timeline = z.object({ tracks: z.object({ children: z.array(z.object({ children: z.array(Item) })) }) });

interface Found extends z.output<typeof Written> {
  readonly start: Rational;
  readonly url: string | null;
}

/** The clips of a timeline and where each begins, added up exactly from the gaps and clips before it. */
function clipsIn(text: string | undefined): readonly Found[] {
  return Timeline.parse(JSON.parse(text ?? '')).tracks.children.flatMap(({ children }) => {
    let at = rational(0);
    return children.flatMap((item): Found[] => {
      const start = at;
      at = addRationals(at, secondsOf(item.source_range.duration));
      const written = item.metadata.quayside;
      if (item.OTIO_SCHEMA === 'Gap.1' || written === undefined) return [];
      return [{ ...written, start, url: item.media_references?.DEFAULT_MEDIA.target_url ?? null }];
    });
  });
}

function secondsOf({ value, rate }: z.output<typeof Time>): Rational {
  const known = Object.values(RATES).find((one) => one.numerator / one.denominator === rate);
  return known === undefined ? rational(value, rate) : rational(value * known.denominator, known.numerator);
}

function usesOf(group: PicturedGroup, picture: ShootPicture): readonly string[] {
  return group.members.flatMap(({ clipId, range }) => {
    const clip = picture.clips.find((one) => one.id === clipId);
    const path = clip?.path.toWellFormed() ?? '';
    if (range.unit === 'samples') return [`sound ${path}`];
    return clip?.facts.sound.length === 0 ? [`picture ${path}`] : [`picture ${path}`, `sound ${path}`];
  });
}

describe('the records of any shoot', () => {
  it('have each clip in a timeline exactly as often as the groups say, at exactly its offset', () => {
    fc.assert(
      fc.property(anyShoot, (picture) => {
        const files = renderShootRecords(picture);
        for (const group of picture.groups) {
          const found = clipsIn(files.get(groupTimelineName(group.id)));
          expect(found.map(({ use, path }) => `${use} ${path}`).toSorted()).toEqual(usesOf(group, picture).toSorted());
          for (const { clip_id, start } of found) {
            const offsets = group.members
              .filter((one) => one.clipId.toWellFormed() === clip_id)
              .map((one) => one.offset);
            expect(offsets).toContainEqual(start);
          }
        }
        const all = clipsIn(files.get(RECORD_NAMES.shootTimeline)).map(({ use, path }) => `${use} ${path}`);
        expect(all.toSorted()).toEqual(picture.groups.flatMap((group) => usesOf(group, picture)).toSorted());
      }),
      { numRuns: 30 },
    );
  });

  it('have references that resolve to the clip’s own place', () => {
    fc.assert(
      fc.property(anyShoot, (picture) => {
        const files = renderShootRecords(picture);
        for (const [name, text] of [...files].filter(([file]) => file.endsWith('.otio'))) {
          for (const { clip_id, url } of clipsIn(text)) {
            const place =
              picture.clips.find((clip) => clip.id.toWellFormed() === clip_id)?.place?.toWellFormed() ?? null;
            const resolved = url === null ? null : new URL(url, `file:///footage/shoot/records/${name}`);
            expect(resolved === null ? null : decodeURIComponent(resolved.pathname)).toBe(
              place === null ? null : `/footage/shoot/${place}`,
            );
            expect(`${resolved?.search ?? ''}${resolved?.hash ?? ''}`).toBe('');
          }
        }
      }),
      { numRuns: 30 },
    );
  });

  it('have every clip, group and finding in JSON and CSV, with their names as they were', () => {
    fc.assert(
      fc.property(anyShoot, (picture) => {
        const files = renderShootRecords(picture);
        const record = RecordsJson.parse(JSON.parse(files.get(RECORD_NAMES.json) ?? ''));
        const written = new Set(record.clips.map((clip) => clip.path));
        expect(record.clips).toHaveLength(picture.clips.length);
        for (const { path } of picture.clips) expect(written).toContain(path.toWellFormed());
        expect(record.groups.map((group) => group.members.map((member) => member.offset))).toEqual(
          picture.groups.map((group) => group.members.map((member) => member.offset)),
        );
        expect(record.findings.map((finding) => finding.code)).toEqual(picture.findings.map((finding) => finding.code));

        const rows = readCsv(files.get(RECORD_NAMES.groupsCsv));
        const members = picture.groups.flatMap((group) => group.members.map((member) => member.clipId));
        const listed = [...members, ...picture.ungrouped.map((clip) => clip.clipId)];
        expect(rows.map((row) => `${row['roll']}/${row['path']}`)).toEqual(
          listed.map((clipId) => clipId.toWellFormed()),
        );
        const findings = readCsv(files.get(RECORD_NAMES.findingsCsv));
        expect(findings.map((row) => row['why'])).toEqual(
          picture.findings.map((finding) => finding.why.toWellFormed()),
        );
      }),
      { numRuns: 30 },
    );
  });

  it('are the same bytes for clips in any order, under the names that were announced', () => {
    fc.assert(
      fc.property(anyShoot, (picture) => {
        const files = renderShootRecords(picture);
        expect([...files.keys()]).toEqual(recordNames(picture));
        expect(renderShootRecords({ ...picture, clips: picture.clips.toReversed() })).toEqual(files);
      }),
      { numRuns: 30 },
    );
  });
});

function readCsv(text: string | undefined): readonly Readonly<Record<string, string>>[] {
  const rows: readonly Record<string, string>[] = parseCsv(text ?? '', { columns: true, record_delimiter: '\r\n' });
  return rows.map((row) => Object.fromEntries(Object.entries(row).map(([key, cell]) => [key, unguardFormula(cell)])));
}

it('a group with a clip that the picture does not hold is refused by name', () => {
  const picture = faultyClass();
  expect(() => renderShootRecords({ ...picture, clips: picture.clips.slice(1) })).toThrow(
    expect.objectContaining({
      code: 'CLIP_NOT_PICTURED',
      message: expect.stringContaining(picture.clips[0]?.id ?? ''),
    }),
  );
});
