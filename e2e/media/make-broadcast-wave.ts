import { open } from 'node:fs/promises';
import { runFfmpeg } from './run-ffmpeg.ts';

export interface WaveOrder {
  readonly file: string;
  readonly seconds: number;
  /** The first sample's number since midnight, at the file's own rate (EBU Tech 3285, TimeReference). */
  readonly timeReferenceSamples: number;
  readonly sampleRate: number;
  /** Pitch in hertz. Default 440. */
  readonly tone?: number;
  /** Default 1. */
  readonly channels?: number;
  readonly description?: string;
  readonly originator?: string;
  /** What an iXML chunk says of its timecode rate, as `24000/1001`; without it the file has no such chunk. */
  readonly timecodeRate?: string;
  /** Wall clock, `yyyy-mm-dd` and `hh:mm:ss`: informational, nothing syncs by it. */
  readonly originated?: { readonly date: string; readonly time: string };
}

/**
 * Makes a broadcast wave file: 24-bit PCM with a `bext` chunk.
 * @throws QuaysideError `MEDIA_NOT_MADE`
 */
export async function makeBroadcastWave(order: WaveOrder): Promise<{ readonly samples: number }> {
  const { sampleRate, tone = 440, channels = 1, originated } = order;
  const samples = Math.max(1, Math.round(order.seconds * sampleRate));
  const metadata = {
    time_reference: String(order.timeReferenceSamples),
    description: order.description,
    originator: order.originator,
    origination_date: originated?.date,
    origination_time: originated?.time,
  };
  await runFfmpeg(order.file, [
    ['-f', 'lavfi', '-i', `sine=frequency=${tone}:sample_rate=${sampleRate},atrim=end_sample=${samples}`],
    ['-ac', String(channels), '-c:a', 'pcm_s24le', '-write_bext', '1'],
    ...Object.entries(metadata).map(([key, value]) => (value === undefined ? [] : ['-metadata', `${key}=${value}`])),
    ['-f', 'wav'],
  ]);
  if (order.timecodeRate !== undefined) await appendChunk(order.file, 'iXML', ixmlOf(order, order.timecodeRate));
  return { samples };
}

/** The tags are those that the published iXML specification names; ffmpeg writes none of them. */
function ixmlOf({ originator = '', sampleRate }: WaveOrder, timecodeRate: string): string {
  const speed = `<TIMECODE_RATE>${timecodeRate}</TIMECODE_RATE><TIMECODE_FLAG>NDF</TIMECODE_FLAG><FILE_SAMPLE_RATE>${sampleRate}</FILE_SAMPLE_RATE>`;
  return `<?xml version="1.0" encoding="UTF-8"?><BWFXML><PROJECT>pottery class</PROJECT><TAPE>${originator}</TAPE><SPEED>${speed}</SPEED></BWFXML>`;
}

/** Adds a chunk at the end of a RIFF file: its name, its length, its bytes padded to an even number; then the file's own length. */
async function appendChunk(file: string, name: string, text: string): Promise<void> {
  const handle = await open(file, 'r+');
  try {
    const { size } = await handle.stat();
    const body = Buffer.from(text.length % 2 === 0 ? text : `${text} `);
    const head = Buffer.from(`${name}\0\0\0\0`);
    head.writeUInt32LE(body.length, 4);
    await handle.write(Buffer.concat([head, body]), 0, undefined, size);
    const length = Buffer.alloc(4);
    length.writeUInt32LE(size + head.length + body.length - 8);
    await handle.write(length, 0, 4, 4);
  } finally {
    await handle.close();
  }
}
