import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { createGuestHost, findPlugin, type GuestRun } from '@quayside/guest-host';
import { processesBelow } from '../../service/service-processes.ts';
import { medianOf, type Row } from '../row.ts';
import { manyClips } from '../sync-groups/many-clips.ts';
import { layNoOpPlugin } from './no-op-plugin.ts';
import { processorMs } from './processor-time.ts';

const RUNS = 5000;
const WARM_UP = 500;
/** Processor time is counted in hundredths of a second, so it is taken over this many runs. */
const BLOCK = 250;

/** What one run of a step that does nothing costs in the host alone, one after the other in a warm process: both processes together. */
export async function measureHost(folder: string): Promise<readonly Row[]> {
  const own = join(folder, 'host');
  const roll = join(own, 'roll');
  await mkdir(roll, { recursive: true });
  const host = await createGuestHost({ workFolder: join(own, 'work') });
  try {
    const run = await noOpRun(own, roll);
    const once = async (): Promise<void> => {
      const outcome = await host.run(run, { signal: new AbortController().signal });
      if (outcome.state !== 'done') throw new Error(`The step that does nothing ended so: ${JSON.stringify(outcome)}`);
    };
    for (let number = 0; number < WARM_UP; number += 1) await once();
    const [guest] = (await processesBelow(process.pid)).filter(({ name }) => name === 'guest');
    if (guest === undefined) throw new Error('There is no process of the step.');
    const [walls, cpus]: [number[], number[]] = [[], []];
    for (let block = 0; block < RUNS / BLOCK; block += 1) {
      const before = (await processorMs(guest.pid)) + (await processorMs(process.pid));
      for (let number = 0; number < BLOCK; number += 1) {
        const startedAt = performance.now();
        await once();
        walls.push(performance.now() - startedAt);
      }
      cpus.push(((await processorMs(guest.pid)) + (await processorMs(process.pid)) - before) / BLOCK);
    }
    const perSecond = 1000 / (walls.reduce((sum, one) => sum + one, 0) / walls.length);
    const about = `${RUNS} runs one after the other in a warm process`;
    return [
      row('no-op runs in the host alone, wall time at the median', {
        unit: 'ms',
        value: medianOf(walls),
        limit: 20,
        about,
      }),
      row('the same, processor time of both processes', { unit: 'ms', value: medianOf(cpus), limit: 5, about }),
      {
        ...row('the same, each second', { unit: '/s', value: perSecond, limit: 300, about }),
        target: { sense: 'at least', limit: 300 },
      },
    ];
  } finally {
    await host.close();
    await rm(own, { recursive: true, force: true });
  }
}

async function noOpRun(own: string, roll: string): Promise<GuestRun> {
  const [clip] = manyClips(1);
  if (clip === undefined) throw new Error('There is no clip.');
  const { id, recorder, role, sizeInBytes } = { ...clip, id: clip.rollId };
  return {
    source: await findPlugin(await layNoOpPlugin(own), own),
    plugin: 'no-op',
    step: 'work',
    subject: {
      kind: 'clip',
      shoot: { id: 'pottery-class', name: 'Pottery class' },
      roll: { id, recorder, role, fileCount: 1, sizeInBytes },
      clip,
    },
    config: {},
    outputs: {},
    clipPaths: { [clip.id]: join(roll, 'clip.mov') },
    rollFolders: { [id]: roll },
    grants: [],
    secrets: {},
    limits: { seconds: 20, memoryMb: 256, programsMb: 4096, outputMb: 10, parallel: 1 },
  };
}

interface Measured {
  readonly unit: Row['unit'];
  readonly value: number | null;
  readonly limit: number;
  readonly about: string;
}

function row(what: string, { unit, value, limit, about }: Measured): Row {
  return { bench: 'guests', what, unit, value, samples: [], target: { sense: 'under', limit }, notes: [about] };
}
