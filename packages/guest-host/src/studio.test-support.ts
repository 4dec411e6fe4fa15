import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ClipSubject, Grant } from '@quayside/shoot';
import { createGuestHost, type GuestHost, type GuestHostOptions } from './create-guest-host.ts';
import { findPlugin } from './plugin-source/find-plugin.ts';
import type { GuestOutcome, GuestRun, RunControls } from './run/guest-run.ts';

export const FOOTAGE = 'The first cup of the day, thrown on the wheel.';
export const OTHER_FOOTAGE = 'Another roll, of another recorder.';
export const SECRET = 'the words that open the service';

/** A folder with two rolls' copies, a configuration with a secret, and a host with a short grace, all real. */
export class Studio {
  readonly folder: string;
  readonly host: GuestHost;

  private constructor(folder: string, host: GuestHost) {
    this.folder = folder;
    this.host = host;
  }

  static async open(options: Partial<GuestHostOptions> = {}): Promise<Studio> {
    const folder = await mkdtemp(join(tmpdir(), 'quayside-guests-'));
    for (const [roll, text] of [
      ['wheel-1', FOOTAGE],
      ['wheel-10', OTHER_FOOTAGE],
    ] as const) {
      await mkdir(join(folder, 'shoot/wheel', roll), { recursive: true });
      await writeFile(join(folder, 'shoot/wheel', roll, 'cup.mov'), text);
    }
    await mkdir(join(folder, 'plugins'));
    await writeFile(join(folder, 'plugins/quayside.yaml'), SECRET);
    return new Studio(folder, await createGuestHost({ workFolder: join(folder, 'work'), graceMs: 300, ...options }));
  }

  get copy(): string {
    return join(this.folder, 'shoot/wheel/wheel-1/cup.mov');
  }

  /** Runs a step on the clip. `body` is the body of its `run`; `before` stands above the plugin. */
  async run(
    body: string,
    {
      before = '',
      step = '',
      plugin = 'hostile',
      ...rest
    }: Partial<Written> & Partial<GuestRun> & Partial<RunControls> = {},
  ): Promise<GuestOutcome> {
    const file = join(this.folder, 'plugins', `${plugin}.ts`);
    const text = pluginText(body, { before, step, plugin });
    // Written anew it would be another state of the plugin, and get another process.
    if ((await readFile(file, 'utf8').catch(() => null)) !== text) await writeFile(file, text);
    const { signal = new AbortController().signal, onProgress, takeFiles, pause, ...run } = rest;
    return this.host.run(
      {
        source: await findPlugin(`./${plugin}.ts`, join(this.folder, 'plugins')),
        plugin,
        step: 'work',
        subject: SUBJECT,
        config: {},
        outputs: {},
        clipPaths: { [SUBJECT.clip.id]: this.copy },
        rollFolders: { 'wheel-1': join(this.folder, 'shoot/wheel/wheel-1') },
        grants: [] satisfies Grant[],
        secrets: {},
        limits: { seconds: 20, memoryMb: 256, programsMb: 4096, outputMb: 10, parallel: 1 },
        ...run,
      },
      {
        signal,
        ...(onProgress === undefined ? {} : { onProgress }),
        ...(takeFiles === undefined ? {} : { takeFiles }),
        ...(pause === undefined ? {} : { pause }),
      },
    );
  }

  /** Both copies as they are now. */
  async footage(): Promise<readonly string[]> {
    const copies = ['wheel-1', 'wheel-10'].map((roll) => join(this.folder, 'shoot/wheel', roll, 'cup.mov'));
    return Promise.all(copies.map((copy) => readFile(copy, 'utf8')));
  }

  async close(): Promise<void> {
    await this.host.close();
    await rm(this.folder, { recursive: true });
  }
}

interface Written {
  readonly before: string;
  /** More members of the step. */
  readonly step: string;
  readonly plugin: string;
}

function pluginText(body: string, { before, step, plugin }: Written): string {
  return `import { definePlugin, defineStep, StepFailure } from '@quayside/step-sdk';
import * as fs from 'node:fs';
${before}
// Any value fits: what it lets through the host must judge.
const anything = { '~standard': { version: 1, vendor: 'test', validate: (value: unknown) => ({ value }) } } as const;
const work = defineStep({
  name: 'work', scope: 'clip', config: anything, output: anything as never, ${step}
  async run({ subject, config, copies, outputs, scratchFolder, outputFolder, log, progress, secrets, signal, report }) { ${body} },
});
export default definePlugin({ apiVersion: 1, name: '${plugin}', version: '1', steps: [work] });
`;
}

export const SUBJECT: ClipSubject = {
  kind: 'clip',
  shoot: { id: '2026-11-25', name: 'Pottery class' },
  roll: { id: 'wheel-1', recorder: 'wheel', role: 'camera', fileCount: 1, sizeInBytes: 46 },
  clip: {
    id: 'wheel-1/cup.mov',
    rollId: 'wheel-1',
    path: 'cup.mov',
    recorder: 'wheel',
    role: 'camera',
    sizeInBytes: 46,
    modifiedAt: '2026-11-25T10:00:00.000Z',
    facts: {
      kind: 'picture',
      container: 'MPEG-4',
      durationMs: 1000,
      picture: null,
      startTimecode: '10:00:00:00',
      sound: [],
      wave: null,
      device: { make: null, model: null, serial: null },
      reel: null,
      created: null,
      damage: [],
    },
  },
};
