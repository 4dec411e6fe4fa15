import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  factsOf,
  ffprobe,
  H264,
  hasFfmpeg,
  make,
  picture,
  PRORES_LT,
  SKIPPED,
  temporaryFolder,
  tone,
} from '../media-facts.test-support.ts';

describe.skipIf(!hasFfmpeg)(`picture and sound${SKIPPED}`, () => {
  let folder: Awaited<ReturnType<typeof temporaryFolder>>;
  beforeAll(async () => {
    folder = await temporaryFolder();
  });
  afterAll(() => folder[Symbol.asyncDispose]());
  const path = (name: string): string => join(folder.path, name);
  const clip = picture('25', 5);

  it.each([
    ['ProRes LT', 'a.mov', PRORES_LT, { codec: 'ProRes', profile: '422 LT', chroma: '4:2:2', scan: 'progressive' }],
    ['ProRes HQ', 'b.mov', '-c:v prores_ks -profile:v 3 -pix_fmt yuv422p10le', { codec: 'ProRes', profile: '422 HQ' }],
    ['H.264', 'c.mp4', H264, { codec: 'H.264', bitDepth: 8, chroma: '4:2:0', scan: 'progressive' }],
    ['10-bit H.264', 'd.mp4', `${H264}10le`, { codec: 'H.264', profile: 'High 10', bitDepth: 10 }],
    ['interlaced ProRes', 'e.mov', `${PRORES_LT} -flags +ildct+ilme -top 1`, { scan: 'interlaced' }],
    ['interlaced H.264', 'f.mov', `${H264} -flags +ildct+ilme -x264opts tff=1`, { scan: 'interlaced' }],
    ['square pixels', 'g.mov', PRORES_LT, { width: 128, height: 72, pixelAspect: { numerator: 1, denominator: 1 } }],
    ['wide pixels', 'h.mov', `${PRORES_LT} -vf setsar=16/15`, { pixelAspect: { numerator: 16, denominator: 15 } }],
    ['wide pixels, not ISO', 'i.mkv', `${H264} -vf setsar=4/3`, { pixelAspect: { numerator: 4, denominator: 3 } }],
    [
      'BT.709',
      'j.mov',
      `${PRORES_LT} -color_primaries bt709 -color_trc bt709 -colorspace bt709`,
      { colour: { primaries: 'BT.709', transfer: 'BT.709', matrix: 'BT.709' } },
    ],
    [
      'HLG',
      'k.mp4',
      `${H264}10le -color_primaries bt2020 -color_trc arib-std-b67 -colorspace bt2020nc`,
      { colour: { primaries: 'BT.2020', transfer: 'HLG', matrix: 'BT.2020 non-constant' } },
    ],
    ['no colour tags', 'l.mp4', H264, { colour: { primaries: null, transfer: null, matrix: null } }],
  ])('%s is told', async (...[, name, options, expected]) => {
    const facts = await factsOf(await make(path(name), clip, options));
    expect(facts).toMatchObject({ kind: 'picture', picture: expected, damage: [] });
  });

  it('tells the container by its brand', async () => {
    expect((await factsOf(await make(path('brand.mov'), clip, H264))).container).toBe('QuickTime');
    expect((await factsOf(await make(path('brand.mp4'), clip, H264))).container).toBe('MPEG-4');
    const faststart = await make(path('fast.mp4'), clip, H264, '-movflags +faststart');
    expect(await factsOf(faststart)).toMatchObject({ picture: { frameCount: 5 }, damage: [] });
  });

  it.each([
    [1, 'pcm_s16le', 48_000, 16],
    [2, 'pcm_s24le', 44_100, 24],
    [3, 'pcm_s24le', 48_000, 24],
    [4, 'pcm_s16le', 96_000, 16],
    [6, 'pcm_s24le', 48_000, 24],
    [8, 'pcm_s24le', 96_000, 24],
  ])('%i channels of %s at %i Hz', async (...[channels, codec, sampleRate, bitDepth]) => {
    const samples = sampleRate / 5;
    const file = await make(
      path('sound.mov'),
      clip,
      tone(samples, sampleRate),
      PRORES_LT,
      `-c:a ${codec} -ac ${channels}`,
    );
    const sound = [{ codec: 'PCM', channels, sampleRate, bitDepth, sampleCount: samples }];
    expect((await factsOf(file)).sound).toEqual(sound);
    expect(ffprobe(file)[1]).toMatchObject({ channels, sample_rate: `${sampleRate}`, duration_ts: samples });
  });

  it('several tracks are told in the order of the file', async () => {
    const sound = `${tone(9600)} ${tone(9600)}`;
    const file = await make(
      path('tracks.mov'),
      clip,
      sound,
      '-map 0 -map 1 -map 2 -ac:a:1 2',
      PRORES_LT,
      '-c:a pcm_s24le',
    );
    expect((await factsOf(file)).sound.map(({ channels, sampleCount }) => [channels, sampleCount])).toEqual([
      [1, 9600],
      [2, 9600],
    ]);
  });

  it('sound that ends before the picture is told, sound a packet shorter is not', async () => {
    const short = await make(path('short.mov'), picture('25', 50), tone(48_000), PRORES_LT, '-c:a pcm_s24le');
    expect((await factsOf(short)).damage).toEqual([
      { kind: 'sound-short', why: 'Sound ends before the picture: track 1 by 1.00 s.' },
    ]);
    const packet = await make(path('packet.mp4'), picture('25', 50), tone(94_000), H264, '-c:a aac');
    expect((await factsOf(packet)).damage).toEqual([]);
  });

  it('device, reel and date come from the tags of recorders; a date with an offset is certain, one in the index is not', async () => {
    const keys = {
      'com.apple.quicktime.make': 'Kilnworks',
      'com.apple.quicktime.model': 'Wheel-6',
      'com.apple.quicktime.creationdate': '2026-03-14T12:00:00+0200',
      'com.apple.proapps.reel': 'A007',
      'com.kilnworks.serialNumber': 'SN123',
    };
    const tags = Object.entries(keys).map(([key, value]) => `-metadata ${key}=${value}`);
    const tagged = await make(path('tags.mov'), clip, PRORES_LT, '-movflags use_metadata_tags', ...tags);
    expect(await factsOf(tagged)).toMatchObject({
      device: { make: 'Kilnworks', model: 'Wheel-6', serial: 'SN123' },
      reel: 'A007',
      created: { at: '2026-03-14T12:00:00+02:00', zone: 'offset' },
    });
    const plain = '-metadata make=Kilnworks -metadata model=Wheel-6 -metadata creation_time=2026-03-14T10:00:00Z';
    const track = '-timecode 10:00:00:00 -metadata:s:v:0 reel_name=W001';
    const indexed = await make(path('plain.mov'), clip, PRORES_LT, plain, track);
    expect(await factsOf(indexed)).toMatchObject({
      device: { make: 'Kilnworks', model: 'Wheel-6', serial: null },
      reel: 'W001',
      created: { at: '2026-03-14T10:00:00', zone: 'unknown' },
    });
    expect(ffprobe(indexed)[1]?.tags).toMatchObject({ reel_name: 'W001' });
  });

  it('other containers are described by the library, as far as two megabytes tell', async () => {
    const sound = `${tone(48_000)} -c:a pcm_s16le`;
    const mxf = await make(path('a.mxf'), picture('25', 25), sound, '-c:v mpeg2video -timecode 10:00:00:00');
    expect(await factsOf(mxf)).toMatchObject({
      kind: 'picture',
      container: 'MXF',
      durationMs: 1000,
      picture: { rate: { numerator: 25, denominator: 1 }, frameCount: 25 },
      startTimecode: '10:00:00:00',
      damage: [],
    });
    const matroska = await make(path('a.mkv'), picture('24000/1001', 48), H264);
    expect((await factsOf(matroska)).picture).toMatchObject({
      rate: { numerator: 24_000, denominator: 1001 },
      frameCount: 48,
    });
    const noise = '-f lavfi -i nullsrc=size=640x360:rate=25,geq=random(1)*255:128:128,trim=end_frame=60';
    const part = await readFile(await make(path('part.ts'), noise, '-c:v mpeg2video -q:v 1'));
    const stream = path('long.ts');
    await writeFile(
      stream,
      Buffer.concat(Array.from({ length: 1 + Math.ceil((3 * 1024 * 1024) / part.length) }, () => part)),
    );
    // Of a stream without an index only its start was seen: no length is made up, and it does not look cut.
    expect(await factsOf(stream)).toMatchObject({ container: 'MPEG-TS', durationMs: null, damage: [] });
  });
});
