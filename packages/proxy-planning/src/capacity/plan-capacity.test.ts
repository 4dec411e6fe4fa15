import { expect, it } from 'vitest';
import { ingestRates, type RollTaken } from './ingest-rates.ts';
import { planCapacity } from './plan-capacity.ts';
import { readRecordingFormat } from './recording-format.ts';

const FORMAT = readRecordingFormat('prores-422-hq/3840x2160/25/0');
const four = (driveFreeBytes: number | null): Parameters<typeof planCapacity>[0]['recorders'] =>
  ['wheel', 'hands', 'wide', 'kiln'].map((name) => ({ name, format: FORMAT, driveFreeBytes }));
const answer = (change: Partial<Parameters<typeof planCapacity>[0]>): ReturnType<typeof planCapacity> =>
  planCapacity({ recorders: four(1e12), seconds: 7200, destinations: [], measuredIngest: [], ...change });

it('four cameras for two hours take what the publisher’s table says', () => {
  // 4 x 737 Mb/s x 0.45 x 2 h = 2653.2 GB by the publisher's table; the container takes one hundredth more.
  expect(answer({}).bytes / 1.01 / 1e9).toBeCloseTo(2653.2, -1);
});

it('tells what fits on each drive and destination, and how long each still takes', () => {
  const { recorders, destinations, fits, cautions } = answer({
    recorders: four(500e9),
    destinations: [
      { name: 'primary', freeBytes: 4e12, sharedBy: 1 },
      { name: 'backup', freeBytes: 1e12, sharedBy: 1 },
    ],
  });
  expect(recorders[0]).toMatchObject({ name: 'wheel', isEnough: false });
  expect((recorders[0]?.secondsLeft ?? 0) / 3600).toBeCloseTo(500e9 / (737 * 1.01 * 0.45e9), 2);
  expect(destinations.map(({ isEnough }) => isEnough)).toEqual([true, false]);
  expect(fits).toBe(false);
  expect(cautions[0]).toBe(
    'The drive of wheel is too small: it needs 670 GB and has 500 GB free, which is 1 h 29 min.',
  );
  expect(cautions[4]).toMatch(
    /^Destination backup is too small: it needs 2\.7 TB and has 1\.0 TB free, which is 0 h 44 min/,
  );
});

function withTwo(sharedBy: number): ReturnType<typeof answer> {
  return answer({ destinations: ['primary', 'backup'].map((name) => ({ name, freeBytes: 4e12, sharedBy })) });
}

it('counts what two destinations on one device share once', () => {
  expect(withTwo(1).fits).toBe(true);
  expect(withTwo(2).fits).toBe(false);
  expect(withTwo(2).cautions[0]).toMatch(
    /has 4\.0 TB free, shared by 2 destinations on one device, which is 1 h 29 min/,
  );
});

it('claims nothing about a drive that is not there', () => {
  expect(answer({ recorders: four(null) })).toMatchObject({ fits: null });
  expect(answer({ destinations: [{ name: 'primary', freeBytes: null, sharedBy: 1 }] }).fits).toBeNull();
  expect(answer({ destinations: [{ name: 'primary', freeBytes: 1e13, sharedBy: 1 }] }).fits).toBe(true);
});

it('estimates the taking in by what was measured, and says when nothing was', () => {
  expect(answer({}).ingestSeconds.basis).toBe('never measured here');
  const { ingestSeconds, bytes } = answer({ measuredIngest: [100e6, 300e6, 200e6] });
  expect(ingestSeconds).toEqual({
    expected: bytes / 200e6,
    low: bytes / 300e6,
    high: bytes / 100e6,
    basis: 'measured here',
  });
});

it('reads formats of tables and of a bit rate, and refuses others by saying what is wrong', () => {
  expect(readRecordingFormat('150Mbps/3840x2160/50/0').bytesPerSecond).toBe(Math.ceil((150e6 / 8) * 1.01));
  expect(readRecordingFormat('dnxhr-hqx/1920x1080/23.976')).toMatchObject({
    rate: { numerator: 24_000, denominator: 1001 },
    soundChannels: 2,
    isListed: true,
  });
  for (const [text, why] of [
    ['prores/1920x1080/25', '"prores" is no codec'],
    ['prores-422/HD/25', '"hd" is no size'],
    ['prores-422/1920x1080/26', '"26" is no rate'],
    ['prores-422/1920x1080/25/x', '"x" is no number of sound channels'],
    ['prores-422/1920x1080/25/2/2', 'more than four parts'],
  ] as const)
    expect(() => readRecordingFormat(text)).toThrow(why);
});

function roll(fromMs: number, toMs: number, bytes: number): RollTaken {
  return { fromMs, toMs, bytes };
}

it('rolls that were taken in together are one measurement, and small ones none', () => {
  const together = [roll(5_000, 20_000, 1e9), roll(0, 10_000, 1e9), roll(19_000, 20_000, 2e9)];
  expect(ingestRates([roll(90_000, 91_000, 1e6), ...together, roll(60_000, 70_000, 2e9)])).toEqual([2e8, 2e8]);
});
