import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  factsOf,
  ffprobe,
  H264,
  hasFfmpeg,
  hasMediainfo,
  make,
  mediainfo,
  picture,
  PRORES_LT,
  SKIPPED,
  temporaryFolder,
  tone,
} from '../media-facts.test-support.ts';

const FRAMES = 37;
const SAMPLES = 30_001;
// Where ffmpeg's own clock of an intermediate rate would round, it is told the exact one.
const CASES: readonly (readonly [string, string, string])[] = [
  ['24000/1001', '24000', '10:00:00:00'],
  ['24', '24', '23:59:59:23'],
  ['25', '25', '10:00:00:00'],
  ['30000/1001', '30000', '01:00:00:00'],
  ['30000/1001', '30000', '01:00:00;00'],
  ['30000/1001', '30000', '00:01:00;02'],
  ['30', '30', '01:00:00:00'],
  ['48000/1001', '48000', '10:00:00:00'],
  ['50', '50', '10:00:00:49'],
  ['60000/1001', '60000', '10:00:00:00'],
  ['60000/1001', '60000', '10:00:00;00'],
  ['60', '60', '23:59:59:59'],
  ['100', '100', '10:00:00:00'],
  ['120000/1001', '120000', '10:00:00:000'],
];

describe.skipIf(!hasFfmpeg)(`rates and labels${SKIPPED}`, () => {
  let folder: Awaited<ReturnType<typeof temporaryFolder>>;
  beforeAll(async () => {
    folder = await temporaryFolder();
  });
  afterAll(() => folder[Symbol.asyncDispose]());

  it.each(CASES)(
    'a clip at %s (clock %s) from %s says so exactly, in ProRes and in long-GOP H.264',
    async (...given) => {
      const [rate, timescale, label] = given;
      const timing = `-r ${rate} -video_track_timescale ${timescale} -timecode ${label}`;
      const [numerator, denominator = 1] = rate.split('/').map(Number);
      const files = [
        await make(
          join(folder.path, 'a.mov'),
          picture(rate, FRAMES),
          tone(SAMPLES),
          PRORES_LT,
          '-c:a pcm_s24le',
          timing,
        ),
        await make(join(folder.path, 'b.mp4'), picture(rate, FRAMES), H264, '-bf 2 -g 12', timing),
      ];
      for (const file of files) {
        const facts = await factsOf(file);
        expect(facts).toMatchObject({
          kind: 'picture',
          picture: { rate: { numerator, denominator }, isVariableRate: false, frameCount: FRAMES },
          startTimecode: label,
        });
        expect(facts.durationMs).toBeCloseTo((FRAMES * 1000 * denominator) / (numerator ?? 0), 3);
        // ffprobe, of other code, reads the same.
        const streams = ffprobe(file);
        const printedRate = rate.includes('/') ? rate : `${rate}/1`;
        expect(streams[0]).toMatchObject({ r_frame_rate: printedRate, nb_frames: `${FRAMES}` });
        expect(streams.find(({ tags }) => tags?.['timecode'] !== undefined)?.tags?.['timecode']).toBe(label);
        // The library alone counts sound by the millisecond; the file's table, and ffprobe, do not.
        const samples = file.endsWith('.mov') ? [SAMPLES] : [];
        expect(facts.sound.map(({ sampleCount }) => sampleCount)).toEqual(samples);
        expect(streams.filter((one) => one.codec_type === 'audio').map((one) => one.duration_ts)).toEqual(samples);
      }
      const [first = ''] = files;
      if (hasMediainfo) {
        expect(mediainfo(first, 'Video', 'FrameCount')).toBe(`${FRAMES}`);
        // Above 100 labels a second the frames are printed with three digits by us and by ffmpeg, with two by this one.
        const printed = label.replace(/:0(\d\d)$/, ':$1');
        expect([label, printed]).toContain(mediainfo(first, 'Other', 'TimeCode_FirstFrame'));
      }
    },
  );

  it('a clip without a timecode track has no label, and one without sound no tracks', async () => {
    const file = await make(join(folder.path, 'bare.mov'), picture('25', 5), PRORES_LT);
    expect(await factsOf(file)).toMatchObject({ startTimecode: null, sound: [], reel: null });
  });

  it('what an edit list trims from the head is not counted, and moves the label', async () => {
    const long = await make(
      join(folder.path, 'long.mov'),
      picture('25', 100),
      H264,
      '-bf 2 -g 10 -timecode 10:00:00:00',
    );
    const cut = await make(join(folder.path, 'cut.mov'), `-ss 1.28 -i ${long} -c copy -map 0:v`, '-write_tmcd 0');
    // It is cut at the key picture before, picture 30; the edit list hides the two before picture 32. ffprobe decodes it to tell.
    const decoded = Number(ffprobe(cut, true)[0]?.nb_read_frames);
    expect(decoded).toBe(68);
    expect((await factsOf(cut)).picture?.frameCount).toBe(decoded);
    expect(ffprobe(cut)[0]?.nb_frames).toBe('70');
  });

  it('pictures lost in a steady clip are gaps, not a variable rate', async () => {
    const drop = "-vf select='not(between(n\\,20\\,22))' -vsync passthrough";
    const file = await make(join(folder.path, 'gap.mov'), picture('25', 50), drop, PRORES_LT);
    expect(await factsOf(file)).toMatchObject({
      durationMs: 2000,
      picture: { rate: { numerator: 25, denominator: 1 }, isVariableRate: false, frameCount: 47 },
      damage: [{ kind: 'frame-gaps', why: 'Pictures missing: 3, in 1 gaps, the first after picture 20.' }],
    });
    expect(ffprobe(file)[0]?.nb_frames).toBe('47');
  });

  it('a clip of uneven pictures is variable', async () => {
    const uneven = "-vf select='not(mod(n\\,3))+not(mod(n\\,7))' -vsync passthrough";
    const file = await make(join(folder.path, 'uneven.mp4'), picture('25', 90), uneven, H264);
    expect(await factsOf(file)).toMatchObject({ picture: { isVariableRate: true }, damage: [] });
  });

  it('a fragmented recording is counted over its fragments', async () => {
    const sound = `${tone(96_000)} -c:a aac`;
    const options = '-g 10 -movflags +frag_keyframe+empty_moov+delay_moov -timecode 10:00:00:00';
    const file = await make(join(folder.path, 'fragments.mp4'), picture('25', 50), sound, H264, options);
    expect(await factsOf(file)).toMatchObject({
      picture: { rate: { numerator: 25, denominator: 1 }, isVariableRate: false, frameCount: 50 },
      startTimecode: '10:00:00:00',
      damage: [],
    });
    expect(ffprobe(file, true)[0]?.nb_read_frames).toBe('50');
  });
});
