import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { BenchWork } from '../bench-work.ts';
import type { Row } from '../row.ts';
import { makeMixedClips } from './make-mixed-clips.ts';
import { measureIngestBeside } from './measure-ingest-beside.ts';
import { measurePrediction } from './measure-prediction.ts';

/** How right the plan of proxies is, and what ingest has to share with their making. */
export async function benchProxyRender({ folder, options: { repeat }, say }: BenchWork): Promise<readonly Row[]> {
  const own = join(folder, 'mixed');
  say('proxy-render: making sixteen clips of four recorders ...');
  const clips = await makeMixedClips(own);
  const predictions = await measurePrediction(clips, say);
  const beside = await measureIngestBeside({ folder, clips: clips.map(({ file }) => file), repeat, say });
  await rm(own, { recursive: true });
  return [...predictions, beside];
}
