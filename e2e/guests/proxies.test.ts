import { spawnSync } from 'node:child_process';
import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { RenderedProxy } from '@quayside/proxy-planning';
import { factsOfFile } from '@quayside/step-sdk/testing';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { makePotteryClass, type Recording } from '../media/make-pottery-class.ts';
import { Studio } from '../main-job/studio.test-support.ts';

const ability = await canMountDrives();
const isMissing = ['ffmpeg', 'ffprobe'].some((tool) => spawnSync(tool, ['-version']).error !== undefined);
const SKIPPED = ability.ok ? (isMissing ? ' (skipped: ffmpeg is not installed)' : '') : ` (skipped: ${ability.reason})`;
const PLUGIN = fileURLToPath(new URL('../../plugins/proxy-render', import.meta.url));
const TAKES = 2;
const CAMERAS = ['wheel', 'hands'];

interface Runs {
  readonly runs: readonly {
    readonly id: string;
    readonly state: string;
    readonly subject: { readonly id: string };
    readonly startedAt: string;
    readonly filed: { readonly destination: string; readonly folder: string } | null;
  }[];
}
interface Plan {
  readonly clips: readonly {
    readonly clipId: string;
    readonly state: string;
    readonly rendering: { readonly state: string };
  }[];
  readonly isCurrent: boolean;
}

describe.skipIf(!ability.ok || isMissing)(`the proxies of a class${SKIPPED}`, { timeout: 600_000 }, () => {
  let studio: Studio;
  let recordings: readonly Recording[] = [];
  let shootId = '';
  beforeAll(async () => {
    studio = await Studio.open();
    const made = await makePotteryClass(join(studio.folder, 'class'), { clipsPerRecorder: TAKES, secondsPerClip: 2 });
    recordings = made.filter(({ name }) => CAMERAS.includes(name));
    for (const name of ['primary', 'backup']) await studio.addDestination(name);
    await studio.start({
      proxies: { rules: [{ name: 'all', make: 'h264', within: '160x90' }] },
      plugins: [{ use: PLUGIN, grants: ['child-processes'], config: { render: { threads: 1 } } }],
    });
    for (const { name, folder } of recordings) await studio.record({ recorder: name, from: folder });
    for (const { name } of recordings) await studio.plug(name);
    await studio.service.verdicts(recordings.length);
    const [roll] = await studio.service.rolls();
    shootId = roll?.shootId ?? '';
  });
  afterAll(() => studio?.[Symbol.asyncDispose]());

  const plan = (): Promise<Plan> => studio.service.get(`/v1/shoots/${shootId}/proxies`);
  const runs = async (): Promise<Runs['runs']> =>
    (await studio.service.get<Runs>('/v1/runs?step=proxy-render/render&limit=200')).runs;
  const allMade = (): Promise<Runs['runs']> =>
    studio.service.until(
      'every proxy is made',
      async () => {
        const known = await runs();
        return known.filter(({ state }) => state === 'done').length === TAKES * CAMERAS.length ? known : null;
      },
      500_000,
    );

  it('are made in the order of the plan: the newest take that all recorders have comes first', async () => {
    const made = await allMade();
    const { clips } = await plan();
    const planned = clips.filter(({ state }) => state === 'planned').map(({ clipId }) => clipId);
    expect(planned).toHaveLength(TAKES * CAMERAS.length);
    // The names of clips grow with the takes, and the plan begins with the last one.
    expect(planned.slice(0, CAMERAS.length).every((id) => /0*2\.mov$/i.test(id))).toBe(true);
    const started = made.toSorted((one, other) => (one.startedAt < other.startedAt ? -1 : 1));
    expect(started.map(({ subject }) => subject.id)).toEqual(planned);
  });

  it('stand in the timelines beside their originals, as links that lead to both', async () => {
    const made = await allMade();
    const [destination] = made.flatMap(({ filed }) => filed?.destination ?? []);
    const file = join(studio.destination(destination ?? ''), shootId, 'records', 'shoot.otio');
    const links = await studio.service.until(
      'the timeline names every proxy',
      async () => {
        const found = linksIn(JSON.parse(await readFile(file, 'utf8')));
        return found.filter(({ proxy }) => proxy !== null).length >= made.length ? found : null;
      },
      60_000,
    );
    for (const { original, proxy } of links.filter((link) => link.proxy !== null)) {
      const [source, target] = [await factsOfFile(at(file, original)), await factsOfFile(at(file, proxy ?? ''))];
      expect(target.startTimecode).toBe(source.startTimecode);
      expect(target.picture?.frameCount).toBe(source.picture?.frameCount);
      expect([target.picture?.width, target.picture?.height]).toEqual([160, 90]);
    }
  });

  it('teach the next plan what making them takes on this machine', async () => {
    const [made] = await allMade();
    const { output } = await studio.service.get<{ output: unknown }>(`/v1/runs/${made?.id}`);
    const { predicted, measured } = RenderedProxy.parse(output);
    expect(predicted.seconds.basis).toBe('never measured here');
    expect(measured).toMatchObject({ to: 'h264', pixels: 320 * 180 });
    const kept = JSON.parse(await readFile(join(studio.service.data, 'measured-proxies.json'), 'utf8'));
    expect(kept.proxies).toContainEqual(measured);
  });

  it('are recognised by a service that has lost its view, but for one whose file is gone, which is made again', async () => {
    const [lost, ...others] = await allMade();
    const placeAt = (destination: string): string => join(studio.destination(destination), lost?.filed?.folder ?? '');
    await studio.service.kill();
    await rm(join(studio.service.data, 'redis'), { recursive: true, force: true });
    for (const name of ['primary', 'backup']) await rm(placeAt(name), { recursive: true, force: true });
    await studio.service.run();
    const clips = await studio.service.until(
      'every proxy is there again',
      async () => {
        const known = (await plan().catch(() => null))?.clips.filter(({ state }) => state === 'planned') ?? [];
        const isThere = ({ rendering: { state } }: (typeof known)[number]): boolean =>
          state === 'made' || state === 'recognised';
        return known.length === others.length + 1 && known.every(isThere) ? known : null;
      },
      500_000,
    );
    const stateOf = new Map(clips.map(({ clipId, rendering }) => [clipId, rendering.state]));
    expect(stateOf.get(lost?.subject.id ?? '')).toBe('made');
    for (const { subject } of others) expect(stateOf.get(subject.id)).toBe('recognised');
    const places = await Promise.all(['primary', 'backup'].map((name) => readdir(placeAt(name)).catch(() => [])));
    expect(places.flat().length).toBeGreaterThan(0);
  });
});

/** A plugin that is busy for a long time, and tells how far it is; makes way as proxies do. */
const BUSY = `import { definePlugin, defineStep } from '@quayside/step-sdk';
const work = defineStep({
  name: 'work', scope: 'roll', makesWay: true,
  async run({ subject, progress, signal }) {
    if (subject.roll.recorder !== 'wheel') return;
    for (let second = 0; second < 3000 && !signal.aborted; second += 1) {
      progress({ fraction: second / 3000 });
      await new Promise((go) => setTimeout(go, 100));
    }
  },
});
export default definePlugin({ apiVersion: 1, name: 'busy', version: '1', steps: [work] });
`;

interface BusyRuns {
  readonly runs: readonly {
    readonly id: string;
    readonly state: string;
    readonly subject: { readonly id: string };
    readonly progress?: { readonly fraction: number; readonly isHeldUp?: boolean } | null;
  }[];
}

describe.skipIf(!ability.ok)(
  `work that makes way for drives${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  () => {
    it(
      'stands still while a drive is taken in, begins nothing, and goes on afterwards',
      { timeout: 600_000 },
      async () => {
        await using studio = await Studio.open();
        await writeFile(join(studio.folder, 'busy.ts'), BUSY);
        for (const name of ['primary', 'backup']) await studio.addDestination(name);
        await studio.start({ plugins: [{ use: './busy.ts' }] });
        await studio.record({ recorder: 'wheel', files: { 'CLIPS/a.mov': 100_000 } });
        // Long enough to be looked at while it is copied.
        await studio.record({ recorder: 'hands', files: { 'CLIPS/b.mov': 400_000_000 }, sizeInBytes: 2 ** 29 });
        await studio.plug('wheel');
        const busy = async (): Promise<BusyRuns['runs']> => (await studio.service.get<BusyRuns>('/v1/runs')).runs;
        await studio.service.until(
          'the work is under way',
          async () => ((await busy()).some(({ progress }) => (progress?.fraction ?? 0) > 0) ? true : null),
          120_000,
        );
        await studio.plug('hands');
        const held = await studio.service.until(
          'it stands still',
          async () => (await busy()).find(({ progress }) => progress?.isHeldUp === true) ?? null,
          120_000,
        );
        // As long as anything of the drive is copied or proven, the work is where it stood, and none is begun for the drive.
        for (;;) {
          const known = await busy();
          const [roll] = (await studio.service.rolls()).filter(({ recorder }) => recorder === 'hands');
          if (roll?.activity === 'resting') break;
          const [wheel] = known.filter(({ id }) => id === held.id);
          if (wheel?.progress?.isHeldUp === true) expect(wheel.progress.fraction).toBe(held.progress?.fraction);
          const begun = known.filter(({ state }) => state !== 'waiting');
          expect(begun.map(({ subject }) => subject.id)).toEqual([held.subject.id]);
        }
        await studio.service.until(
          'it goes on',
          async () => {
            const [wheel] = (await busy()).filter(({ id }) => id === held.id);
            const { fraction = 0, isHeldUp = true } = wheel?.progress ?? {};
            return !isHeldUp && fraction > (held.progress?.fraction ?? 1) ? true : null;
          },
          120_000,
        );
      },
    );
  },
);

interface Link {
  readonly original: string;
  readonly proxy: string | null;
}

/** The links of every clip below, which is read here as the standard writes it (OpenTimelineIO, `Clip.2`). */
function linksIn(node: unknown): readonly Link[] {
  if (typeof node !== 'object' || node === null) return [];
  if (!('OTIO_SCHEMA' in node) || node.OTIO_SCHEMA !== 'Clip.2' || !('media_references' in node))
    return Object.values(node).flatMap((child) => linksIn(child));
  const references = node.media_references as Readonly<Record<string, { readonly target_url?: string }>>;
  const original = references['DEFAULT_MEDIA']?.target_url;
  return original === undefined ? [] : [{ original, proxy: references['proxy']?.target_url ?? null }];
}

/** A relative link is one from the folder of the timeline. */
function at(timeline: string, link: string): string {
  return fileURLToPath(new URL(link, `${pathToFileURL(dirname(timeline)).href}/`));
}
