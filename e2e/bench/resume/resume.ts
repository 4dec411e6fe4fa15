import { mkdir, open, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { listVolume, prepareDestination, startMover } from '@quayside/media-files';
import { deviceNumber } from '@quayside/shoot';
import type { CopyRequest } from '@quayside/step-sdk/built-in';
import type { BenchWork } from '../bench-work.ts';
import { quietDisk } from '../measures/quiet-disk.ts';
import { runTimed } from '../measures/run-timed.ts';
import { medianOf, type Row } from '../row.ts';
import { durableBytesAt, interruptCopy } from './interrupt-copy.ts';

const FILE = 'clip.mov';
const COPIES = ['a', 'b'] as const;
const INTERRUPTED_AT = 0.9;
/** The row is about 10 GiB where the large file has 4. */
const TIMES_THE_LARGE_FILE = 2.5;
const BLOCK_BYTES = 4 * 2 ** 20;

/**
 * Interrupts the copying of a large sparse file to two destinations at nine tenths, and measures what going on costs beside
 * what it cannot do without: reading both parts back from the medium, and copying the rest.
 */
export async function benchResume({ folder, options, say }: BenchWork): Promise<readonly Row[]> {
  const sizeInBytes = Math.round((options.sizeInBytes * TIMES_THE_LARGE_FILE) / BLOCK_BYTES) * BLOCK_BYTES;
  const source = join(folder, 'wheel');
  const samples: number[] = [];
  const shares: number[] = [];
  try {
    await mkdir(source);
    await using file = await open(join(source, FILE), 'wx');
    await file.truncate(sizeInBytes);
    for (let round = 1; round <= options.repeat; round += 1) {
      const { ours, needed, durableBytes } = await goOn(folder, source, sizeInBytes);
      samples.push(ours / needed);
      shares.push((durableBytes / sizeInBytes) * 100);
      say(`resume: round ${round}: went on in ${ours.toFixed(1)} s, ${needed.toFixed(1)} s are needed`);
    }
  } finally {
    await rm(source, { recursive: true, force: true });
  }
  return [
    {
      bench: 'resume',
      what: `${sizeInBytes / 2 ** 30} GiB interrupted at 90 %, time to go on beside reading the parts and copying the rest`,
      unit: 'times',
      value: medianOf(samples),
      samples,
      target: { sense: 'at most', limit: 1.3 },
      notes: [
        `both with \`dd\`: direct I/O in blocks of 4 MiB, two destinations at once, synced; ${medianOf(shares)?.toFixed(0)} % of the file was durable`,
      ],
    },
  ];
}

async function goOn(
  folder: string,
  source: string,
  sizeInBytes: number,
): Promise<{ readonly ours: number; readonly needed: number; readonly durableBytes: number }> {
  const roots = COPIES.map((name) => join(folder, name));
  try {
    const request = await requestFor(source, roots);
    await interruptCopy(request, sizeInBytes * INTERRUPTED_AT);
    const durableBytes = Math.min(...(await Promise.all(roots.map(durableBytesAt))));
    await quietDisk();
    const startedAt = performance.now();
    await using mover = disposable(startMover());
    const outcomes = await mover.copy(request, { signal: new AbortController().signal, onBytes: () => undefined });
    const ours = (performance.now() - startedAt) / 1000;
    const failed = outcomes.find((outcome) => outcome.state === 'failed');
    if (failed?.state === 'failed') throw new Error(failed.failure.sentence);
    return { ours, needed: await neededSeconds(folder, roots, durableBytes), durableBytes };
  } finally {
    for (const root of roots) await rm(root, { recursive: true, force: true });
  }
}

async function neededSeconds(folder: string, roots: readonly string[], durableBytes: number): Promise<number> {
  const blocks = durableBytes / BLOCK_BYTES;
  const block = `bs=${BLOCK_BYTES} status=none`;
  const reads = roots.map((root) => `dd if=${root}/pottery/${FILE} of=/dev/null count=${blocks} iflag=direct ${block}`);
  const writes = roots.map(
    (root) => `dd if=wheel/${FILE} of=${root}/rest skip=${blocks} iflag=direct oflag=direct conv=fsync ${block}`,
  );
  await quietDisk();
  const reading = await runTimed(atOnce(reads), folder);
  return reading + (await runTimed(atOnce(writes), folder));
}

/** Runs commands at once; fails when one fails. */
function atOnce(lines: readonly string[]): string {
  const started = lines.map((line, index) => `${line} & p${index}=$!`);
  return [...started, ...lines.map((_, index) => `wait $p${index} || exit 1`)].join('\n');
}

async function requestFor(source: string, roots: readonly string[]): Promise<CopyRequest> {
  const destinations = [];
  for (const [index, root] of roots.entries()) {
    await mkdir(root);
    const name = `copy-${index + 1}`;
    destinations.push({ name, root, id: (await prepareDestination(root, name)).id });
  }
  const device = deviceNumber((await stat(source)).dev, process.platform);
  const { files } = await listVolume(source, { litter: [] });
  return {
    mount: { path: source, mountId: 'bench', device },
    roll: { id: 'wheel-bench', folder: 'pottery' },
    files,
    destinations,
    algorithms: ['xxh128'],
  };
}

function disposable<Closeable extends { close(): Promise<void> }>(value: Closeable): Closeable & AsyncDisposable {
  return { ...value, [Symbol.asyncDispose]: () => value.close() };
}
