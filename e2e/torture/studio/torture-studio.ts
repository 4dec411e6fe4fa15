import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { shareCompiledCode } from '../../service/share-compiled-code.ts';
import { Service } from '../../service/start-service.ts';
import { runTool } from '../../drives/run-tool.ts';
import { LastingDrive } from './lasting-drive.ts';
import { STUDIO_PREFIX } from './sweep-left-overs.ts';

export const RECORDERS = ['wheel', 'hands', 'wide', 'kiln'] as const;
const GIB = 2 ** 30;

/** A studio whose every drive lies in the virtual bay: two destinations, the service's own data, and slots for recorders. */
export class TortureStudio implements AsyncDisposable {
  readonly folder: string;
  readonly destinations: readonly LastingDrive[];
  readonly data: LastingDrive;
  readonly service: Service;

  private constructor(parts: {
    readonly folder: string;
    readonly destinations: readonly LastingDrive[];
    readonly data: LastingDrive;
    readonly service: Service;
  }) {
    this.folder = parts.folder;
    this.destinations = parts.destinations;
    this.data = parts.data;
    this.service = parts.service;
  }

  /**
   * Everything is there and the service is ready, with `change` in its configuration. Whatever was made is taken away again
   * when that fails.
   */
  static async open(change: Readonly<Record<string, unknown>> = {}): Promise<TortureStudio> {
    const folder = await mkdtemp(join(tmpdir(), STUDIO_PREFIX));
    const drives: LastingDrive[] = [];
    try {
      await writeFile(join(folder, 'owner'), `${process.pid}\n`);
      const workings = join(folder, 'workings');
      await mkdir(workings);
      await mkdir(join(folder, 'bay'));
      const make = async (name: string, root: string, sizeInBytes: number): Promise<LastingDrive> => {
        const drive = await LastingDrive.make({ name, root, folder: workings, sizeInBytes });
        drives.push(drive);
        return drive;
      };
      const data = await make('data', join(folder, 'data'), GIB / 4);
      await shareCompiledCode(data.root);
      await runTool('sync', '--file-system', data.root);
      const destinations = [
        await make('primary', join(folder, 'destinations', 'primary'), 2 * GIB),
        await make('backup', join(folder, 'destinations', 'backup'), 2 * GIB),
      ];
      const service = await Service.start({
        folder,
        configuration: { ...configurationFor(folder, destinations), ...change },
      });
      return new TortureStudio({ folder, destinations, data, service });
    } catch (error) {
      await putAway(folder, drives);
      throw error;
    }
  }

  get bay(): string {
    return join(this.folder, 'bay');
  }

  /** Everything loses its power at once: all processes, both destinations and the data, with what was not flushed. Drives of recorders are left to the caller. */
  async cutPower(): Promise<void> {
    const drives = [...this.destinations, this.data];
    const cuts = drives.map((drive) => (drive.isIn ? drive.slot.cutPower() : null));
    await Promise.all([this.service.kill(), ...cuts]);
    for (const drive of drives) await drive.pull();
  }

  /** The drives are mended and mounted, as at the start of a system; the service is not started yet. */
  async restorePower(): Promise<void> {
    for (const drive of [this.data, ...this.destinations]) await drive.comeBack();
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.service.stop();
    await putAway(this.folder, [...this.destinations, this.data]);
  }
}

async function putAway(folder: string, drives: readonly LastingDrive[]): Promise<void> {
  for (const drive of drives) await drive[Symbol.asyncDispose]();
  await rm(folder, { recursive: true, force: true, maxRetries: 20, retryDelay: 100 });
}

function configurationFor(folder: string, destinations: readonly LastingDrive[]): Record<string, unknown> {
  return {
    watch: { roots: [join(folder, 'bay')], settleSeconds: 0.3, relistSeconds: 1 },
    recorders: Object.fromEntries(
      RECORDERS.map((name) => [name, { role: 'camera', match: [{ label: name.toUpperCase() }] }]),
    ),
    destinations: destinations.map(({ name, root }) => ({ name, path: root, keepFreeBytes: 0 })),
  };
}
