import { spawn } from 'node:child_process';
import { copyFile, open, readFile, stat, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  factsOf,
  H264,
  hasFfmpeg,
  make,
  parse,
  picture,
  PRORES_LT,
  SKIPPED,
  temporaryFolder,
  tone,
} from '../media-facts.test-support.ts';

const MIB = 1024 * 1024;

const kinds = async (file: string): Promise<readonly string[]> => (await factsOf(file)).damage.map(({ kind }) => kind);

describe.skipIf(!hasFfmpeg)(`damage${SKIPPED}`, () => {
  let folder: Awaited<ReturnType<typeof temporaryFolder>>;
  let clip = '';
  beforeAll(async () => {
    folder = await temporaryFolder();
    const options = `${PRORES_LT} -c:a pcm_s24le -timecode 10:00:00:00`;
    clip = await make(join(folder.path, 'clip.mov'), picture('24000/1001', 24), tone(48_048), options);
  });
  afterAll(() => folder[Symbol.asyncDispose]());
  const path = (name: string): string => join(folder.path, name);

  it('a copy cut short has no index, and is known to be short', async () => {
    const { size } = await stat(clip);
    const index = (await readFile(clip)).indexOf('moov') - 4;
    for (const length of [100, 5000, Math.floor(size / 2), index - 1]) {
      await copyFile(clip, path('cut.mov'));
      await truncate(path('cut.mov'), length);
      expect([length, await kinds(path('cut.mov'))]).toEqual([length, ['no-index', 'truncated']]);
      expect((await factsOf(path('cut.mov'))).kind).toBe('picture');
    }
    await copyFile(clip, path('cut.mov'));
    await truncate(path('cut.mov'), index);
    expect(await kinds(path('cut.mov'))).toEqual(['no-index']);
    await copyFile(clip, path('cut.mov'));
    await truncate(path('cut.mov'), index + 300);
    expect(await kinds(path('cut.mov'))).toEqual(['truncated', 'no-index']);
  });

  it('a copy cut short whose index comes first still tells what it should hold', async () => {
    const file = await make(path('first.mp4'), picture('25', 50), H264, '-movflags +faststart -timecode 10:00:00:00');
    const { size } = await stat(file);
    for (const length of [size - 1, Math.floor(size / 2)]) {
      await truncate(file, length);
      expect(await factsOf(file)).toMatchObject({
        picture: { frameCount: 50 },
        startTimecode: '10:00:00:00',
        damage: [{ kind: 'truncated', why: expect.stringContaining(`ends at byte ${length}`) }],
      });
    }
  });

  it('an index that names media beyond the end is a truncated copy, where no box gives it away', async () => {
    const file = await make(path('open.mp4'), picture('25', 50), H264, '-movflags +faststart');
    const bytes = await readFile(file);
    // A media box of size 0 runs to the end of the file, which is legal after an index.
    bytes.writeUInt32BE(0, bytes.indexOf('mdat') - 4);
    await writeFile(file, bytes);
    expect(await kinds(file)).toEqual([]);
    await truncate(file, bytes.indexOf('mdat') + 10);
    expect(await kinds(file)).toEqual(['truncated']);
  });

  it('a recorder killed while writing leaves a clip without an index', async () => {
    const file = path('killed.mov');
    const source = ['-f', 'lavfi', '-i', 'testsrc2=size=320x180:rate=25'];
    const options = ['-c:v', 'prores_ks', '-flush_packets', '1', file];
    const recorder = spawn('ffmpeg', ['-nostdin', '-v', 'quiet', '-y', '-re', ...source, ...options]);
    while (((await stat(file).catch(() => null))?.size ?? 0) < 100_000) await sleep(50);
    const ended = new Promise((resolve) => recorder.on('exit', resolve));
    recorder.kill('SIGKILL');
    await ended;
    // The published head of such a file: ftyp, wide, mdat of size 0.
    const head = (await readFile(file)).toString('hex', 20, 36);
    expect(head).toBe('0000000877696465000000006d646174');
    expect(await factsOf(file)).toMatchObject({ kind: 'picture', picture: null, damage: [{ kind: 'no-index' }] });
  });

  it('an interrupted fragmented recording is truncated, but readable up to there', async () => {
    const options = '-g 5 -movflags +frag_keyframe+empty_moov';
    const file = await make(path('fragments.mp4'), picture('25', 50), H264, options);
    await truncate(file, (await readFile(file)).lastIndexOf('moof') + 20);
    const facts = await factsOf(file);
    expect(facts.damage.map(({ kind }) => kind)).toEqual(['truncated']);
    expect(facts.picture?.frameCount).toBe(45);
  });

  it('an empty file is zero-length, whatever its name', async () => {
    await writeFile(path('empty.mov'), '');
    expect(await factsOf(path('empty.mov'))).toMatchObject({ kind: 'other', damage: [{ kind: 'zero-length' }] });
  });

  it.each([
    ['text', Buffer.from('recorder wheel\r\nrate 24000/1001\r\n')],
    ['one byte', Buffer.from('x')],
    ['zeros', Buffer.alloc(300_000)],
    ['the first four bytes of a wave', Buffer.from('RIFF')],
    ['noise', Buffer.from(Array.from({ length: 100_000 }, (_, index) => (index * 2_654_435_761) >>> 24))],
    [
      'a still picture in boxes',
      Buffer.from('00000018667479706865696300000000686569636d696631000000086d657461', 'hex'),
    ],
  ])('%s is no media, and that is no damage', async (_, bytes) => {
    await writeFile(path('other.mov'), bytes);
    expect(await factsOf(path('other.mov'))).toMatchObject({ kind: 'other', picture: null, sound: [], damage: [] });
  });

  it('of a long file of nonsense two megabytes are read, and a few headers', async () => {
    const file = path('long.bin');
    await writeFile(file, Buffer.from('nonsense'));
    await truncate(file, 100 * MIB);
    const { facts, bytesRead } = await parse(file);
    expect(facts.kind).toBe('other');
    expect(bytesRead).toBeLessThan(2.2 * MIB);
  });

  it('a clip of 50 GiB whose index is at its end costs less than a megabyte, by the kernel’s count too', async () => {
    const bytes = await readFile(clip);
    const media = bytes.indexOf('wide') - 4;
    const index = bytes.indexOf('moov') - 4;
    // What recorders do past 4 GiB: the place held by "wide" makes room for a 64-bit size.
    const end = 50 * 1024 * MIB;
    const head = bytes.subarray(0, index);
    head.writeUInt32BE(1, media);
    head.write('mdat', media + 4, 'latin1');
    head.writeBigUInt64BE(BigInt(end - media), media + 8);
    const file = path('huge.mov');
    const handle = await open(file, 'w');
    await handle.write(head);
    await handle.write(bytes.subarray(index), 0, null, end);
    await handle.close();
    await parse(clip);
    const before = await bytesReadByKernel();
    const { facts, bytesRead } = await parse(file);
    const read = (await bytesReadByKernel()) - before;
    expect((await stat(file)).size).toBeGreaterThan(end);
    expect(facts).toMatchObject({
      picture: { frameCount: 24, rate: { numerator: 24_000, denominator: 1001 } },
      startTimecode: '10:00:00:00',
      damage: [],
    });
    expect(bytesRead).toBeLessThan(MIB);
    if (Number.isFinite(read)) expect(read).toBeLessThan(MIB + 4096);
  });
});

/** What this process has read so far; NaN where the system does not tell. */
async function bytesReadByKernel(): Promise<number> {
  const text = await readFile('/proc/self/io', 'utf8').catch(() => '');
  return Number(/^rchar: (\d+)$/m.exec(text)?.[1] ?? Number.NaN);
}
