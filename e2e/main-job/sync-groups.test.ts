import { readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { layClass } from '../media/lay-class.ts';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { makePotteryClass, type Recording } from '../media/make-pottery-class.ts';
import { runQuayside } from '../service/run-quayside.ts';
import type { Service } from '../service/start-service.ts';
import { Studio } from './studio.test-support.ts';

const ability = await canMountDrives();

interface Groups {
  readonly groups: readonly {
    readonly id: string;
    readonly start: { readonly timecode: string };
    readonly members: readonly { readonly recorder: string; readonly clipId: string }[];
    readonly editableAt: readonly string[];
  }[];
  readonly isCurrent: boolean;
}
interface Proxies {
  readonly clips: readonly { readonly groupId: string | null }[];
  readonly totals: { readonly planned: { readonly count: number }; readonly notNeededCount: number };
  readonly isCurrent: boolean;
}
interface Findings {
  readonly findings: readonly {
    readonly id: string;
    readonly code: string;
    readonly recorder: string | null;
    readonly acknowledged: object | null;
  }[];
}

describe.skipIf(!ability.ok)(
  `the sync groups of a class${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    let studio: Studio;
    let recordings: readonly Recording[];
    let shootId = '';
    let idsBefore: readonly string[] = [];
    beforeAll(async () => {
      studio = await Studio.open();
      // The names of the trade's mistakes and what each does to a file are common practice.
      recordings = await makePotteryClass(join(studio.folder, 'class'), {
        clipsPerRecorder: 4,
        secondsPerClip: 3,
        spoilsLastTake: true,
      });
      for (const name of ['primary', 'backup']) await studio.addDestination(name);
      await studio.start({ proxies: { rules: [{ name: 'all', make: 'h264', within: '160x90' }] } });
      for (const { name, folder } of recordings) await studio.record({ recorder: name, from: folder });
      // The sound recorder comes when the cameras' drives are done with.
      const [cameras, sound] = [recordings.filter(isCamera), recordings.filter((one) => !isCamera(one))];
      for (const { name } of cameras) await studio.plug(name);
      await studio.service.verdicts(cameras.length);
      const [roll] = await studio.service.rolls();
      shootId = roll?.shootId ?? '';
      idsBefore = await studio.service.until('the takes of the cameras are known', async () => {
        const { groups: known, isCurrent } = await groups();
        return isCurrent ? known.map(({ id }) => id) : null;
      });
      for (const { name } of sound) await studio.plug(name);
      await studio.service.verdicts(recordings.length);
      await studio.service.until('the sound has its place', async () => ((await groups()).isCurrent ? true : null));
    });
    afterAll(() => studio?.[Symbol.asyncDispose]());

    const groups = (): Promise<Groups> => studio.service.get(`/v1/shoots/${shootId}/groups`);
    const findings = (): Promise<Findings> => studio.service.get(`/v1/shoots/${shootId}/findings`);
    const proxies = (): Promise<Proxies> => studio.service.get(`/v1/shoots/${shootId}/proxies`);
    const records = (destination: string): string => join(studio.destination(destination), shootId, 'records');

    it('are the takes, each with every recorder, and can be edited at both destinations', async () => {
      const { groups: found, isCurrent } = await groups();
      expect(isCurrent).toBe(true);
      const wheel = recordings.find(({ name }) => name === 'wheel');
      expect(found.map(({ start }) => start.timecode)).toEqual(wheel?.files.map(({ startTimecode }) => startTimecode));
      for (const { members, editableAt } of found) {
        expect(members.map(({ recorder }) => recorder).toSorted()).toEqual(['desk', 'hands', 'kiln', 'wheel', 'wide']);
        expect(editableAt).toEqual(['backup', 'primary']);
      }
    });

    it('keep their identity when a recorder comes later', async () => {
      expect(idsBefore).toHaveLength(4);
      expect((await groups()).groups.map(({ id }) => id)).toEqual(idsBefore);
    });

    it('come with the planted mistakes as findings, and nothing else', async () => {
      const { findings: found } = await findings();
      expect(new Set(found.map(({ code, recorder }) => `${code} of ${recorder}`))).toEqual(
        new Set([
          'CLIP_CUT_SHORT of hands',
          'CLIP_STARTS_LATE of kiln',
          'FRAME_RATE_UNLIKE of wide',
          'SOUND_COUNTED_AT_OTHER_RATE of desk',
        ]),
      );
      expect(found).toHaveLength(4);
    });

    it('lie as timelines, tables and a report in the records of each destination', async () => {
      const { groups: found } = await groups();
      const wanted = [
        'shoot.otio',
        'sync-groups.csv',
        'sync-groups.json',
        'findings.csv',
        'report.html',
        'proxy-plan.json',
        ...found.map(({ id }) => `sync-groups/${id}.otio`),
      ];
      for (const destination of ['primary', 'backup']) {
        // They follow the verdicts by a moment.
        await studio.service.until(`the records at ${destination} are whole`, async () => {
          const names = new Set(await readdir(records(destination), { recursive: true }).catch(() => []));
          return wanted.every((name) => names.has(name)) ? true : null;
        });
      }
    });

    it('refer to footage that is there, from wherever the destination is mounted', async () => {
      const [first] = (await groups()).groups;
      const folder = join(records('primary'), 'sync-groups');
      const timeline = await readFile(join(folder, `${first?.id}.otio`), 'utf8');
      const urls = [...timeline.matchAll(/"target_url":\s*"([^"]+)"/g)].map(([, url]) => url ?? '');
      expect(urls.length).toBeGreaterThanOrEqual(5);
      for (const url of urls) expect((await stat(join(folder, decodeURIComponent(url)))).isFile()).toBe(true);
    });

    it('are planned for proxies, the newest take first, as the records and a terminal say too', async () => {
      const { clips, totals, isCurrent } = await proxies();
      expect([isCurrent, totals.planned.count, totals.notNeededCount]).toEqual([true, 16, 4]);
      const { groups: found } = await groups();
      expect(clips.slice(0, 16).map(({ groupId }) => groupId)).toEqual(
        found.toReversed().flatMap(({ id }) => Array.from({ length: 4 }, () => id)),
      );
      await studio.service.until('the records have that plan', async () => {
        const text = await readFile(join(records('backup'), 'proxy-plan.json'), 'utf8').catch(() => '{}');
        const { plan } = JSON.parse(text) as { readonly plan?: Proxies };
        return plan?.totals.notNeededCount === 4 ? plan : null;
      });
      expect(await quayside(studio.service, 'plan')).toMatch(/16 clips get a proxy.*; 4 files edited as they are/);
      const capacity = ['capacity', '--format', 'prores-422-proxy/1920x1080/25', '--hours', '0.01', '--drive', '1TB'];
      expect(await quayside(studio.service, ...capacity)).toMatch(/kiln +\d+ MB +1\.0 TB[^]*It fits\./);
    });

    it('and their findings are shown on a terminal too', async () => {
      const takes = await quayside(studio.service, 'takes');
      expect(takes).toContain('10:00:00:00');
      expect(takes).toContain('backup primary');
      const told = await quayside(studio.service, 'findings');
      expect(told).toMatch(/CRITICAL FRAME_RATE_UNLIKE\s+[0-9a-f]{16}/);
      expect(told).toContain('CLIPS/WIDE004.MOV (wide) is 25');
    });

    it('keep a finding that was seen as seen, in the records too, also when Redis has lost everything', async () => {
      const [finding] = (await findings()).findings;
      await studio.service.post(`/v1/shoots/${shootId}/findings/${finding?.id}/acknowledge`, {
        by: 'operator',
        note: 'seen',
      });
      await studio.service.until('the records show it', async () => {
        const text = await readFile(join(records('backup'), 'acknowledged.json'), 'utf8').catch(() => '');
        return text.includes('operator') ? text : null;
      });
      const before = await groups();
      await studio.service.stop();
      await rm(join(studio.service.data, 'redis'), { recursive: true, force: true });
      for (const { name } of recordings) await studio.pull(name);
      await studio.service.run();
      await studio.service.until('the groups are worked out again', async () => {
        const known = await groups().catch(() => null);
        return known?.isCurrent === true ? true : null;
      });
      expect((await groups()).groups.map(({ id }) => id)).toEqual(before.groups.map(({ id }) => id));
      await studio.service.until('the proxies are planned again', async () =>
        (await proxies()).isCurrent ? true : null,
      );
      expect((await proxies()).totals.planned.count).toBe(16);
      expect(
        (await findings()).findings.filter(({ acknowledged }) => acknowledged !== null).map(({ id }) => id),
      ).toEqual([finding?.id]);
    });
  },
);

describe.skipIf(!ability.ok)(
  `what is copied first${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    it('is the newest take, across all drives, and then the one before it', async () => {
      await using studio = await Studio.open();
      await expectOrder(studio, {}, [2, 1, 0]);
    });

    it('is what comes first by name, where plain order is wanted', async () => {
      await using studio = await Studio.open();
      await expectOrder(studio, { order: 'plain' }, [0, 1, 2]);
    });
  },
);

/**
 * Takes in two drives of three takes. Each drive is copied in the order of the takes at every destination, and the first of them
 * is usable before the last: reading back goes side by side, so neighbours may be usable within tenths of a second of each other.
 */
async function expectOrder(
  studio: Studio,
  change: Readonly<Record<string, unknown>>,
  expected: readonly [number, number, number],
): Promise<void> {
  const folder = join(studio.folder, 'class');
  // A clip that is larger than a parcel is one by itself.
  await layClass({ folder, takes: 3, clipBytes: 80 * 2 ** 20, recorders: ['wheel', 'hands'] });
  const roots = [];
  for (const name of ['primary', 'backup']) roots.push(await studio.addDestination(name));
  await studio.start(change);
  for (const recorder of ['wheel', 'hands'])
    await studio.record({ recorder, from: join(folder, recorder), sizeInBytes: 2 ** 29 });
  for (const recorder of ['wheel', 'hands']) await studio.plug(recorder);
  const takes = await studio.service.until('all takes are usable', async () => {
    const [roll] = await studio.service.rolls();
    if (roll === undefined) return null;
    const known = await studio.service.get<Groups>(`/v1/shoots/${roll.shootId}/groups`).catch(() => null);
    const groups = (known?.groups ?? []).filter(
      ({ members, editableAt }) => members.length === 2 && editableAt.length > 0,
    );
    return groups.length === 3 ? groups : null;
  });
  // By the ledgers, whose times do not depend on when somebody looks.
  const usableAt = takes.map(() => 'never');
  for (const root of roots) {
    const { written, verified } = await readLedgerTimes(root);
    for (const recorder of ['wheel', 'hands']) {
      const clips = takes.map(({ members }) => members.find((member) => member.recorder === recorder)?.clipId ?? '');
      const times = expected.map((take) => written.get(clips[take] ?? '') ?? 'never');
      expect(times).not.toContain('never');
      expect(times).toEqual(times.toSorted());
    }
    for (const [take, { members }] of takes.entries()) {
      const whole =
        members
          .map(({ clipId }) => verified.get(clipId) ?? 'never')
          .toSorted()
          .at(-1) ?? 'never';
      if (whole < (usableAt[take] ?? '')) usableAt[take] = whole;
    }
  }
  expect(usableAt).not.toContain('never');
  const [first, , last] = expected.map((take) => Date.parse(usableAt[take] ?? ''));
  expect(first).toBeLessThan(last ?? 0);
}

interface LedgerTimes {
  readonly written: Map<string, string>;
  readonly verified: Map<string, string>;
}

/** When each clip was first written and first proven at a destination, by its id. */
async function readLedgerTimes(root: string): Promise<LedgerTimes> {
  const folder = join(root, '.quayside', 'ledger');
  const times: LedgerTimes = { written: new Map(), verified: new Map() };
  for (const name of await readdir(folder)) {
    for (const line of (await readFile(join(folder, name), 'utf8')).split('\n').filter(Boolean)) {
      const { kind, path, at } = JSON.parse(line) as { kind: string; path: string; at: string };
      const clipId = `${name.replace(/\.jsonl$/, '')}/${path}`;
      if ((kind === 'written' || kind === 'verified') && !times[kind].has(clipId)) times[kind].set(clipId, at);
    }
  }
  return times;
}

function isCamera({ role }: Recording): boolean {
  return role === 'camera';
}

async function quayside({ configFile }: Service, ...words: readonly string[]): Promise<string> {
  return (await runQuayside(...words, '--config', configFile)).text;
}
