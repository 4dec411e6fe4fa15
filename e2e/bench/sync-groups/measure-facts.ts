import { stat } from 'node:fs/promises';
import { createFactsReader } from '@quayside/media-facts';
import { medianOf, type Row } from '../row.ts';

const ROUNDS = 20;

/** What it takes to know a clip: processor time of the parser's process and bytes of the file, in a parser that is warm. */
export async function measureFacts(file: string): Promise<readonly Row[]> {
  const { size } = await stat(file);
  const reader = createFactsReader();
  const samples: number[] = [];
  let bytes = 0;
  try {
    for (let round = 0; round <= ROUNDS; round += 1)
      await reader.read(file, {
        sizeInBytes: size,
        onCost: ({ cpuMs, bytesRead }) => {
          // The first one starts the parser.
          if (round > 0) samples.push(cpuMs);
          bytes = bytesRead;
        },
      });
  } finally {
    await reader.close();
  }
  return [
    {
      bench: 'sync-groups',
      what: 'the facts of one clip, processor time',
      unit: 'ms',
      value: medianOf(samples),
      samples,
      target: { sense: 'under', limit: 80 },
      notes: [`${(bytes / 2 ** 20).toFixed(1)} MiB of ${(size / 2 ** 20).toFixed(1)} MiB were read`],
    },
  ];
}
