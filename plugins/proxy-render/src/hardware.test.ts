import { existsSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { factsOfFile, tryStep } from '@quayside/step-sdk/testing';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findHardware, HARDWARE_ENCODERS } from './ffmpeg/hardware-encoders.ts';
import { renderArguments } from './ffmpeg/render-arguments.ts';
import { areToolsMissing, makeOriginal, SKIPPED } from './originals.test-support.ts';
import { planned } from './planned.test-support.ts';
import { render } from './render.ts';

const { signal } = new AbortController();

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-hardware-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** A program that stands for ffmpeg on a machine that has one encoder of its own: a trial of any other fails as ffmpeg's does. */
async function machineWith(encoder: string): Promise<string> {
  const program = join(folder, `ffmpeg-with-${encoder}`);
  const script = `#!/bin/sh
case " $* " in *" -c:v ${encoder} "*) exit 0;; esac
echo "Cannot load the library of the encoder" >&2
exit 1
`;
  await writeFile(program, script, { mode: 0o755 });
  return program;
}

describe("the machine's own encoders", () => {
  it('are tried one after the other, with a picture to encode, until one does', async () => {
    const { encoder, refused } = await findHardware(await machineWith('h264_vaapi'), signal);
    expect(encoder?.name).toBe('h264_vaapi');
    expect(refused).toEqual([
      'h264_videotoolbox: Cannot load the library of the encoder',
      'h264_nvenc: Cannot load the library of the encoder',
    ]);
  });

  it('are told the device first, the pictures that they take last, and the bit rate of the plan', async () => {
    const facts = { ...FACTS, picture: { ...PICTURE, scan: 'progressive' as const } };
    const plan = planned(facts, { name: 'all', make: 'h264', within: '1280x720' });
    if (plan.state !== 'planned') throw new Error('It is planned.');
    const argumentsFor = (name: string): string =>
      renderArguments({
        original: '/a.mov',
        proxy: '/b.mov',
        target: plan.proxy,
        timecode: null,
        threads: 0,
        hardware: HARDWARE_ENCODERS.find((one) => one.name === name) ?? null,
      }).join(' ');
    expect(argumentsFor('h264_vaapi')).toMatch(/^-vaapi_device \/dev\/dri\/renderD128 .*-i file:\/a.mov /);
    expect(argumentsFor('h264_vaapi')).toMatch(
      /setpts=N,format=nv12,hwupload .*-c:v h264_vaapi -rc_mode VBR -b:v 3556k /,
    );
    expect(argumentsFor('h264_nvenc')).toMatch(/,format=nv12 .*-c:v h264_nvenc -rc vbr -b:v 3556k .*-bf 0 /);
    expect(argumentsFor('h264_videotoolbox')).toContain('-c:v h264_videotoolbox -allow_sw 0');
    expect(argumentsFor('none')).toContain('-c:v libx264 -preset fast -pix_fmt yuv420p');
  });
});

// On a machine that has one, the proxy is made by it.
describe.skipIf(areToolsMissing)(`a proxy for which hardware is asked${SKIPPED}`, { timeout: 120_000 }, () => {
  it('is made either way, and says by what; where there is none, the log says so', async () => {
    const file = join(folder, 'a.mov');
    await makeOriginal({ file, rate: '25', size: '320x180', timecode: '10:00:00:00' });
    const facts = await factsOfFile(file);
    const outputs = { 'proxy-planning': planned(facts, { name: 'all', make: 'h264', within: '256x144' }) };
    const made = await tryStep(render, { clips: [{ file, facts }], outputs, config: { hardware: 'auto' } });
    try {
      const { encoder } = await findHardware('ffmpeg', signal);
      expect(made.findings).toEqual([]);
      expect(made.output?.encoder).toBe(encoder?.name ?? 'libx264');
      const told = made.log.map(({ sentence }) => sentence).join(' ');
      if (encoder === null) expect(told).toMatch(/no encoder of its own for H.264 that works \(h264_videotoolbox: /);
      expect(existsSync('/dev/dri/renderD128') || encoder?.name !== 'h264_vaapi').toBe(true);
    } finally {
      await made[Symbol.asyncDispose]();
    }
  });
});

const PICTURE = {
  codec: 'ProRes',
  profile: 'LT',
  width: 1920,
  height: 1080,
  pixelAspect: null,
  rate: { numerator: 25, denominator: 1 },
  isVariableRate: false,
  frameCount: 250,
  scan: 'progressive',
  bitDepth: 10,
  chroma: '4:2:2',
  colour: { primaries: null, transfer: null, matrix: null },
} as const;
const FACTS: Parameters<typeof planned>[0] = {
  kind: 'picture',
  container: 'mov',
  durationMs: 10_000,
  picture: PICTURE,
  startTimecode: '10:00:00:00',
  sound: [],
  wave: null,
  device: { make: null, model: null, serial: null },
  reel: null,
  created: null,
  damage: [],
};
