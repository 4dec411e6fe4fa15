import { randomBytes } from 'node:crypto';
import { copyFile, mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { folderVolumeMarker, writeFolderVolumeMarker } from '@quayside/volumes';
import { Service } from '../../service/start-service.ts';
import { quietDisk } from '../measures/quiet-disk.ts';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';
import { medianOf, type Row } from '../row.ts';
import { eventsUntil, timeOf } from '../service/events-until.ts';

interface Order {
  readonly folder: string;
  /** Footage whose proxies are to be made. */
  readonly clips: readonly string[];
  readonly repeat: number;
  readonly say: (line: string) => void;
}

const PLUGIN = fileURLToPath(new URL('../../../plugins/proxy-render', import.meta.url));
const FILES = 16;
const FILE_BYTES = 64 * 2 ** 20;
const WITHIN_MS = 20 * 60_000;

/** The rate at which a drive is taken in while proxies of another one are being made, beside the rate with none to make. */
export async function measureIngestBeside({ folder, clips, repeat, say }: Order): Promise<Row> {
  const own = join(folder, 'beside');
  const rounds: { readonly alone: number; readonly beside: number }[] = [];
  for (let number = 1; number <= repeat; number += 1) {
    const alone = await takeIn(own, clips, false);
    const beside = await takeIn(own, clips, true);
    rounds.push({ alone, beside });
    say(
      `proxy-render: round ${number} of ${repeat}: 1 GiB taken in within ${alone.toFixed(1)} s, beside rendering ${beside.toFixed(1)} s`,
    );
  }
  const samples = rounds.map(({ alone, beside }) => alone / beside);
  return {
    bench: 'proxy-render',
    what: '1 GiB taken in while proxies are being made, beside the rate without',
    unit: 'times',
    value: medianOf(samples),
    samples,
    target: { sense: 'at least', limit: 0.95 },
    notes: ['from being listed to the verdict, two destinations; the rendering stands still meanwhile'],
  };
}

/** How many seconds the drive `hands` takes from its listing to its verdict, after `wheel`, whose proxies are made or not. */
async function takeIn(own: string, clips: readonly string[], isRendering: boolean): Promise<number> {
  const [bay, waiting] = [join(own, 'bay'), join(own, 'waiting')];
  for (const path of [bay, join(waiting, 'wheel'), join(waiting, 'hands')]) await mkdir(path, { recursive: true });
  for (const clip of clips) await copyFile(clip, join(waiting, 'wheel', basename(clip)));
  for (let file = 0; file < FILES; file += 1)
    await writeFile(join(waiting, 'hands', `take-${file}.bin`), randomBytes(FILE_BYTES));
  for (const name of ['wheel', 'hands'])
    await writeFolderVolumeMarker(join(waiting, name), { label: name.toUpperCase() });
  const destinations = ['primary', 'backup'].map((name) => ({ name, path: join(own, name), keepFreeBytes: 0 }));
  for (const { path } of destinations) await mkdir(path, { recursive: true });
  const service = await Service.start({
    folder: own,
    configuration: {
      watch: { roots: [bay], settleSeconds: 0.5, folders: true, litter: [folderVolumeMarker] },
      recorders: Object.fromEntries(
        ['wheel', 'hands'].map((name) => [name, { role: 'camera', match: [{ label: name.toUpperCase() }] }]),
      ),
      destinations,
      sameDevice: 'accept',
      proxies: { rules: [{ name: 'all', make: 'prores-422-proxy' }] },
      plugins: isRendering ? [{ use: PLUGIN, grants: ['child-processes'] }] : [],
    },
  });
  const callOff = releaseAtInterrupt(() => service.stop());
  try {
    await rename(join(waiting, 'wheel'), join(bay, 'wheel'));
    await eventsUntil(service, ['roll.clear'], { after: '0', withinMs: WITHIN_MS });
    if (isRendering) await service.until('a proxy is being made', () => isUnderWay(service), WITHIN_MS);
    await quietDisk();
    const after = (await service.events()).at(-1)?.id ?? '0';
    await rename(join(waiting, 'hands'), join(bay, 'hands'));
    const events = await eventsUntil(service, ['roll.clear', 'roll.hold'], { after, withinMs: WITHIN_MS });
    if (events.at(-1)?.type !== 'roll.clear') throw new Error(`The roll is not clear: ${events.at(-1)?.sentence}`);
    if (isRendering && (await isUnderWay(service)) === null) throw new Error('Nothing was left to render meanwhile.');
    return (timeOf(events, 'roll.clear') - timeOf(events, 'roll.listed')) / 1000;
  } finally {
    await service.stop();
    callOff();
    await rm(own, { recursive: true, force: true });
  }
}

async function isUnderWay(service: Service): Promise<true | null> {
  const { runs } = await service.get<{ runs: readonly unknown[] }>('/v1/runs?step=proxy-render/render&state=running');
  return runs.length > 0 ? true : null;
}
