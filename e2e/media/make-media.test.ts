import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeBroadcastWave, makeClip, makePotteryClass } from './make-media.ts';

const hasFfmpeg = spawnSync('ffprobe', ['-version']).status === 0;
const title = hasFfmpeg
  ? 'media made by ffmpeg'
  : 'media made by ffmpeg (skipped: ffmpeg and ffprobe are not installed)';

interface Probe {
  readonly streams: readonly { readonly codec_name?: string; readonly [key: string]: unknown }[];
  readonly format: { readonly tags?: Readonly<Record<string, string>> };
}

/** What ffprobe, which shares no code with ours, finds in a file. */
function probe(file: string): Probe {
  return JSON.parse(
    execFileSync('ffprobe', ['-v', 'error', '-of', 'json', '-show_streams', '-show_format', file], {
      encoding: 'utf8',
    }),
  ) as Probe;
}

describe.skipIf(!hasFfmpeg)(title, () => {
  let folder = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'quayside-media-'));
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  test('a clip has the codec, rate, length, timecode and reel that were ordered, and sound as long as its picture', async () => {
    const file = join(folder, 'W001_C001.MOV');
    const { frames } = await makeClip({
      file,
      seconds: 2,
      rate: { num: 24_000, den: 1001 },
      startTimecode: '23:59:59:00',
      codec: 'prores-lt',
      tone: 440,
      reel: 'W001',
    });
    const { streams } = probe(file);
    expect(frames).toBe(48);
    expect(streams).toMatchObject([
      {
        codec_name: 'prores',
        profile: 'LT',
        codec_tag_string: 'apcs',
        r_frame_rate: '24000/1001',
        nb_frames: '48',
        width: 320,
        height: 180,
      },
      { codec_name: 'pcm_s24le', sample_rate: '48000', duration_ts: 48 * 2002 },
      { codec_tag_string: 'tmcd', tags: { timecode: '23:59:59:00', reel_name: 'W001' } },
    ]);
  });

  test('drop-frame timecode and other rates and codecs are made as well, and a clip can have neither timecode nor sound', async () => {
    const file = join(folder, 'drop.mov');
    await makeClip({
      file,
      seconds: 1,
      rate: { num: 30_000, den: 1001 },
      startTimecode: '01:00:00;00',
      codec: 'h264',
      tone: 440,
    });
    expect(probe(file).streams).toMatchObject([
      { codec_name: 'h264', r_frame_rate: '30000/1001', nb_frames: '30' },
      {},
      { tags: { timecode: '01:00:00;00' } },
    ]);
    const bare = join(folder, 'bare.mov');
    await makeClip({
      file: bare,
      seconds: 1,
      rate: { num: 25, den: 1 },
      startTimecode: null,
      codec: 'prores-proxy',
      tone: null,
    });
    expect(probe(bare).streams).toMatchObject([{ codec_name: 'prores', r_frame_rate: '25/1', nb_frames: '25' }]);
    expect(probe(bare).streams).toHaveLength(1);
  });

  test('the same order makes the same bytes', async () => {
    const order = {
      seconds: 0.5,
      rate: { num: 25, den: 1 },
      startTimecode: '00:00:00:00',
      codec: 'prores-lt',
      tone: 100,
    } as const;
    const files = [join(folder, 'one.mov'), join(folder, 'two.mov')];
    for (const file of files) await makeClip({ ...order, file });
    const [one, two] = await Promise.all(files.map((file) => readFile(file)));
    expect(one?.equals(two ?? Buffer.alloc(0))).toBe(true);
  });

  test('a broadcast wave counts its first sample from midnight, in the place that EBU Tech 3285 gives it', async () => {
    const file = join(folder, 'T001.WAV');
    // 23.976 non-drop 10:00:00:00 is 864000 frames of 2002 samples: TimeReference is real elapsed time.
    await makeBroadcastWave({
      file,
      seconds: 1.5,
      timeReferenceSamples: 864_000 * 2002,
      sampleRate: 48_000,
      originator: 'desk',
      originated: { date: '2026-03-14', time: '10:00:00' },
    });
    expect(probe(file)).toMatchObject({
      streams: [{ codec_name: 'pcm_s24le', sample_rate: '48000', duration_ts: 72_000 }],
      format: { tags: { time_reference: '1729728000', encoded_by: 'desk', date: '2026-03-14' } },
    });
    const bytes = await readFile(file);
    const bext = bytes.indexOf('bext') + 8;
    expect(bytes.readUInt32LE(bext - 4)).toBe(602);
    expect(bytes.readBigUInt64LE(bext + 338)).toBe(1_729_728_000n);
    expect(bytes.toString('latin1', bext + 320, bext + 338)).toBe('2026-03-1410:00:00');
  });

  test('a file that cannot be made leaves nothing and says why', async () => {
    const file = join(folder, 'never.mov');
    const order = {
      file,
      seconds: 1,
      rate: { num: 25, den: 1 },
      startTimecode: '10:00',
      codec: 'prores-lt',
      tone: null,
    } as const;
    await expect(makeClip(order)).rejects.toMatchObject({
      code: 'MEDIA_NOT_MADE',
      message: expect.stringContaining('"10:00" is no timecode'),
    });
    const sizeless = { ...order, startTimecode: null, size: { width: 0, height: 0 } };
    await expect(makeClip(sizeless)).rejects.toMatchObject({
      code: 'MEDIA_NOT_MADE',
      message: expect.stringContaining('ffmpeg says'),
    });
    expect(await readdir(folder)).not.toContain('never.mov');
  });

  test('the pottery class is five drives on one clock, whose files say the same as the plan', async () => {
    const recordedAt = new Date('2026-03-14T10:00:00Z');
    const recordings = await makePotteryClass(join(folder, 'class'), {
      clipsPerRecorder: 2,
      secondsPerClip: 1,
      recordedAt,
    });
    expect(
      recordings.map(({ name, role, files }) => [name, role, files.map(({ startTimecode }) => startTimecode)]),
    ).toStrictEqual([
      ['wheel', 'camera', ['10:00:00:00', '10:01:01:00']],
      ['hands', 'camera', ['10:00:00:02', '10:01:01:02']],
      ['wide', 'camera', ['10:00:00:04', '10:01:01:04']],
      ['kiln', 'camera', ['10:00:00:07', '10:01:01:07']],
      ['desk', 'sound', ['09:59:59:00', '10:01:00:00']],
    ]);
    for (const { role, folder: drive, files } of recordings) {
      for (const { path, startFrame, startTimecode, frames } of files) {
        const { streams, format } = probe(join(drive, path));
        if (role === 'sound') expect(format.tags).toMatchObject({ time_reference: String(startFrame * 2002) });
        else
          expect(streams).toMatchObject([
            { nb_frames: String(frames), tags: { timecode: startTimecode } },
            { duration_ts: frames * 2002 },
            {},
          ]);
        expect((await stat(join(drive, path))).mtimeMs).toBeGreaterThanOrEqual(recordedAt.getTime());
      }
      const found = await readdir(drive, { recursive: true, withFileTypes: true });
      expect(found.filter((entry) => entry.isFile())).toHaveLength(files.length + 1);
      expect(await readFile(join(drive, 'NOTES.TXT'), 'utf8')).toContain(files[0]?.startTimecode);
    }
  });
});
