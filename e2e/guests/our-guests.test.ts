// oxlint-disable typescript/await-thenable -- the rule does not see that a generic interface is disposable
import { spawnSync } from 'node:child_process';
import { mkdtemp, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { tryIsolated } from '@quayside/guest-host/testing';
import { createFactsReader } from '@quayside/media-facts';
import { draw } from '@quayside/plugin-contact-sheet';
import { measure } from '@quayside/plugin-loudness';
import { render } from '@quayside/plugin-proxy-render';
import { planProxies, ProxyPolicy } from '@quayside/proxy-planning';
import type { MediaFacts } from '@quayside/shoot';
import { factsOfFile } from '@quayside/step-sdk/testing';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makePotteryClass, type Recording } from '../media/make-pottery-class.ts';

const isMissing = ['ffmpeg', 'ffprobe'].some((tool) => spawnSync(tool, ['-version']).error !== undefined);
const PLUGINS = join(import.meta.dirname, '../../plugins');

let folder = '';
let recordings: readonly Recording[] = [];
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-our-guests-'));
  if (!isMissing) recordings = await makePotteryClass(folder, { clipsPerRecorder: 1, secondsPerClip: 2 });
});
afterAll(() => rm(folder, { recursive: true, force: true }));

function clipOf(recorder: string): { readonly file: string; readonly recorder: string } {
  const recording = recordings.find(({ name }) => name === recorder);
  return { file: join(recording?.folder ?? '', recording?.files[0]?.path ?? ''), recorder };
}

describe.skipIf(isMissing)(
  `our guests, each in a process of its own${isMissing ? ' (skipped: ffmpeg is not installed)' : ''}`,
  () => {
    it('loudness measures a clip, with the grant that it asks for and not without it', async () => {
      const trial = { clips: [clipOf('wheel')], plugin: join(PLUGINS, 'loudness') };
      await using outcome = await tryIsolated(measure, trial);
      // ffmpeg's `sine` stands at an eighth of full scale: -18.06 dBFS at its peak.
      expect(outcome.output?.tracks[0]).toMatchObject({ truePeak: expect.closeTo(-18.06, 0), channels: [{}] });
      expect(outcome.findings).toEqual([]);
      await expect(tryIsolated(measure, { ...trial, grants: [] })).rejects.toThrow(/loudness.*start a program/);
    });

    it('contact-sheet draws a group of four cameras and a sound recorder', async () => {
      const clips = ['wheel', 'hands', 'wide', 'kiln', 'desk'].map((recorder) => clipOf(recorder));
      const trial = { clips, plugin: join(PLUGINS, 'contact-sheet'), config: { framesPerClip: 2, frameWidth: 64 } };
      await using outcome = await tryIsolated(draw, trial);
      // Started 0, 2, 4 and 7 frames after ten o'clock, 48 frames long: the middles of the halves are 12 and 36 frames on.
      expect(outcome.output?.sheets[0]?.frames.map(({ timecode }) => timecode)).toEqual([
        '10:00:00:12',
        '10:00:01:12',
        '10:00:00:14',
        '10:00:01:14',
        '10:00:00:16',
        '10:00:01:16',
        '10:00:00:19',
        '10:00:01:19',
      ]);
      expect(outcome.files).toEqual(['group-1.svg']);
      expect(await readFile(join(outcome.folder, 'group-1.svg'), 'utf8')).toContain('>kiln 10:00:01:19</text>');
    });

    it('proxy-render makes a proxy with the frames, timecode and sound of its original', async () => {
      const clip = clipOf('hands');
      const policy = ProxyPolicy.parse({ rules: [{ name: 'all', make: 'h264', within: '64x64' }] });
      const outputs = { 'proxy-planning': await planOf(clip.file, policy) };
      const trial = { clips: [clip], plugin: join(PLUGINS, 'proxy-render'), outputs };
      await using outcome = await tryIsolated(render, trial);
      expect(outcome.findings).toEqual([]);
      expect(outcome.files).toEqual([outcome.output?.file]);
      const [original, proxy] = [
        await factsOfFile(clip.file),
        await factsOfFile(join(outcome.folder, outcome.files[0] ?? '')),
      ];
      expect(proxy.startTimecode).toBe(original.startTimecode);
      expect(proxy.picture).toMatchObject({ rate: original.picture?.rate, frameCount: original.picture?.frameCount });
      expect(proxy.sound.map(({ channels }) => channels)).toEqual(original.sound.map(({ channels }) => channels));
    });

    it('are tried on facts that are those of the service, where a step looks at them', async () => {
      const reader = createFactsReader();
      try {
        for (const { file } of [clipOf('wheel'), clipOf('desk')]) {
          const { size } = await stat(file);
          const read = await reader.read(file, { sizeInBytes: size });
          const tried = await factsOfFile(file);
          expect(tried.picture?.rate).toEqual(read.picture?.rate);
          expect(tried.picture?.frameCount).toEqual(read.picture?.frameCount);
          const { kind, startTimecode } = tried;
          expect({ kind, startTimecode }).toEqual({ kind: read.kind, startTimecode: read.startTimecode });
          expect(soundOf(tried)).toEqual(soundOf(read));
          expect(tried.wave?.timeReference).toEqual(read.wave?.timeReference);
        }
      } finally {
        await reader.close();
      }
    });
  },
);

/** What a plan says of a file alone. */
async function planOf(file: string, policy: ProxyPolicy): Promise<unknown> {
  const facts = await factsOfFile(file);
  const named = { id: 'hands-1/a.mov', rollId: 'hands-1', path: 'a.mov', recorder: 'hands', role: 'camera' } as const;
  const clip = { ...named, sizeInBytes: 1000, modifiedAt: '2026-11-25T10:00:00.000Z', facts };
  return planProxies([clip], policy, { groups: [], measured: [], space: null }).clips[0];
}

function soundOf({ sound }: MediaFacts): unknown {
  return sound.map(({ channels, sampleRate, sampleCount, bitDepth }) => [channels, sampleRate, sampleCount, bitDepth]);
}
