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
  return { samples };
}
