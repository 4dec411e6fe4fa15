import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  factsOf,
  ffprobe,
  hasFfmpeg,
  hasMediainfo,
  make,
  mediainfo,
  SKIPPED,
  temporaryFolder,
  tone,
} from '../media-facts.test-support.ts';

const BEXT =
  '-c:a pcm_s24le -write_bext 1 -metadata originator=desk -metadata origination_date=2026-03-14 -metadata origination_time=10:00:05';

/** A RIFF chunk, padded to an even length (EBU Tech 3285). */
function chunk(id: string, body: Buffer): Buffer {
  const head = Buffer.alloc(8, id, 'latin1');
  head.writeUInt32LE(body.length, 4);
  return Buffer.concat([head, body, Buffer.alloc(body.length % 2)]);
}

/** Puts a chunk at the end of a wave file, as recorders do, and mends the size of the whole. */
function withChunk(wave: Buffer, id: string, body: Buffer): Buffer {
  const longer = Buffer.concat([wave, chunk(id, body)]);
  longer.writeUInt32LE(longer.length - 8, 4);
  return longer;
}

const IXML = `<?xml version="1.0" encoding="UTF-8"?><BWFXML><PROJECT>Pottery class</PROJECT><SCENE>2</SCENE><TAKE>3</TAKE>
<TAPE>DESK01</TAPE><FILE_UID>QS0001</FILE_UID><SPEED><TIMECODE_RATE>24000/1001</TIMECODE_RATE><TIMECODE_FLAG>NDF</TIMECODE_FLAG>
<TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_HI>0</TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_HI>
<TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_LO>1729728000</TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_LO>
<TIMESTAMP_SAMPLE_RATE>48000</TIMESTAMP_SAMPLE_RATE></SPEED>
<TRACK_LIST><TRACK><INTERLEAVE_INDEX>1</INTERLEAVE_INDEX><NAME>Lapel</NAME></TRACK></TRACK_LIST></BWFXML>`;

describe.skipIf(!hasFfmpeg)(`wave files${SKIPPED}`, () => {
  let folder: Awaited<ReturnType<typeof temporaryFolder>>;
  let plain: Buffer;
  beforeAll(async () => {
    folder = await temporaryFolder();
    plain = await readFile(
      await make(join(folder.path, 'plain.wav'), tone(48_000), BEXT, '-metadata time_reference=1729728000'),
    );
  });
  afterAll(() => folder[Symbol.asyncDispose]());
  const write = async (name: string, bytes: Buffer): Promise<string> => {
    const file = join(folder.path, name);
    await writeFile(file, bytes);
    return file;
  };

  it.each([
    [48_000, 1_728_000_000],
    [96_000, 7_948_800_000],
    [192_000, 16_588_608_000],
  ])('at %i Hz the time reference %i is exact, and ffprobe reads the same', async (sampleRate, timeReference) => {
    const reference = `-metadata time_reference=${timeReference}`;
    const file = await make(join(folder.path, 'reference.wav'), tone(sampleRate / 2 + 1, sampleRate), BEXT, reference);
    expect(await factsOf(file)).toMatchObject({
      kind: 'sound',
      container: 'Wave',
      durationMs: Math.round(((sampleRate / 2 + 1) * 1e6) / sampleRate) / 1000,
      sound: [{ codec: 'PCM', channels: 1, sampleRate, bitDepth: 24, sampleCount: sampleRate / 2 + 1 }],
      wave: { timeReference, originator: 'desk', originatedAt: '2026-03-14T10:00:05', timecodeRate: null },
      created: { at: '2026-03-14T10:00:05', zone: 'unknown' },
      damage: [],
    });
    expect(ffprobe(file)[0]?.duration_ts).toBe(sampleRate / 2 + 1);
    if (hasMediainfo)
      expect(Number(mediainfo(file, 'Audio', 'Delay'))).toBeCloseTo((timeReference / sampleRate) * 1000, 0);
  });

  it('iXML is read after the sound as before it', async () => {
    const wave = {
      timeReference: 1_729_728_000,
      project: 'Pottery class',
      scene: '2',
      take: '3',
      tape: 'DESK01',
      fileUid: 'QS0001',
      timecodeRate: { numerator: 24_000, denominator: 1001 },
      isDropFrame: false,
      samplesSinceMidnight: 1_729_728_000,
      timestampSampleRate: 48_000,
      trackNames: ['Lapel'],
    };
    const after = await write('after.wav', withChunk(plain, 'iXML', Buffer.from(`${IXML}\0`)));
    expect(await factsOf(after)).toMatchObject({ wave, reel: 'DESK01', damage: [] });
    const before = Buffer.concat([plain.subarray(0, 12), chunk('iXML', Buffer.from(IXML)), plain.subarray(12)]);
    before.writeUInt32LE(before.length - 8, 4);
    expect(await factsOf(await write('before.wav', before))).toMatchObject({ wave, damage: [] });
  });

  it('RF64 takes its sizes from ds64: the head is the published one, and so are the counts', async () => {
    const file = await make(join(folder.path, 'long.wav'), tone(480), '-c:a pcm_s16le -rf64 always');
    const bytes = await readFile(file);
    expect(bytes.toString('hex', 0, 20)).toBe('52463634ffffffff57415645647336341c000000');
    expect([bytes.readBigUInt64LE(28), bytes.readBigUInt64LE(36)]).toEqual([960n, 480n]);
    expect(await factsOf(file)).toMatchObject({ container: 'RF64', sound: [{ sampleCount: 480 }], damage: [] });
    const renamed = Buffer.concat([Buffer.from('BW64'), bytes.subarray(4)]);
    expect(await factsOf(await write('bw64.wav', renamed))).toMatchObject({
      container: 'BW64',
      sound: [{ sampleCount: 480 }],
    });
  });

  it('a copy cut short has the samples that are there, and says so', async () => {
    const start = plain.indexOf('data') + 8;
    for (const kept of [0, 3, 3001, plain.length - start - 1]) {
      const facts = await factsOf(await write('cut.wav', plain.subarray(0, start + kept)));
      expect(facts).toMatchObject({ kind: 'sound', damage: [{ kind: 'truncated' }] });
      expect(facts.sound[0]?.sampleCount).toBe(Math.floor(kept / 3));
    }
    for (const length of [12, 20, 40, 60, 500, start - 4]) {
      const facts = await factsOf(await write('stub.wav', plain.subarray(0, length)));
      expect(facts).toMatchObject({ kind: 'sound', damage: [{ kind: 'truncated' }] });
    }
  });

  it.each([0, 0xffff_ffff])(
    'a recording whose length was never written (%i) is counted to the end of the file',
    async (size) => {
      const unfinished = Buffer.from(plain);
      const start = plain.indexOf('data') + 8;
      unfinished.writeUInt32LE(size, start - 4);
      unfinished.writeUInt32LE(size, 4);
      expect(await factsOf(await write('unfinished.wav', unfinished))).toMatchObject({
        sound: [{ sampleCount: 48_000 }],
        damage: [{ kind: 'truncated', why: expect.stringContaining('never written') }],
      });
    },
  );

  it('an empty but finished recording is whole', async () => {
    const file = await make(join(folder.path, 'empty.wav'), tone(1), '-af atrim=end_sample=0 -c:a pcm_s24le');
    expect(await factsOf(file)).toMatchObject({ kind: 'sound', sound: [{ sampleCount: 0 }], damage: [] });
  });

  it('four channels of 32-bit float are counted by the block', async () => {
    const file = await make(join(folder.path, 'float.wav'), tone(4800), '-ac 4 -c:a pcm_f32le');
    expect((await factsOf(file)).sound).toEqual([
      { codec: 'PCM', channels: 4, sampleRate: 48_000, bitDepth: 32, sampleCount: 4800 },
    ]);
  });
});
