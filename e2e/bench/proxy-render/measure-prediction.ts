// oxlint-disable typescript/await-thenable -- the rule does not see that a generic interface is disposable
import { render } from '@quayside/plugin-proxy-render';
import { type ClipWithProxy, type MeasuredProxy, planProxies, ProxyPolicy } from '@quayside/proxy-planning';
import { tryStep } from '@quayside/step-sdk/testing';
import type { Row } from '../row.ts';
import type { MixedClip } from './make-mixed-clips.ts';

const POLICY = ProxyPolicy.parse({
  rules: [
    { name: 'long runs of dependent frames', when: { codec: ['H.264'] }, make: 'prores-422-proxy', within: '1280x720' },
    { name: 'all others', make: 'h264', within: '960x540', megabits: 8 },
  ],
});

interface Compared {
  readonly name: string;
  readonly bytes: Pair;
  readonly seconds: Pair;
}

interface Pair {
  readonly predicted: number;
  readonly made: number;
}

/** Renders the first half of the takes, plans the others with what that took, renders these too, and compares. */
export async function measurePrediction(
  clips: readonly MixedClip[],
  say: (line: string) => void,
): Promise<readonly Row[]> {
  const half = clips.length / 2;
  const measured: MeasuredProxy[] = [];
  for (const one of clips.slice(0, half)) measured.push((await renderOne(one, [])).measured);
  say(`proxy-render: ${half} clips rendered to learn from; now ${half} others as predicted ...`);
  const compared: Compared[] = [];
  for (const one of clips.slice(half)) {
    const { predicted, measured: made } = await renderOne(one, measured);
    compared.push({
      name: one.clip.path,
      bytes: { predicted: predicted.bytes.expected, made: made.bytes },
      seconds: { predicted: predicted.seconds.expected, made: made.seconds },
    });
  }
  for (const { name, bytes, seconds } of compared)
    say(
      `proxy-render: ${name}: ${mega(bytes.predicted)} MB predicted, ${mega(bytes.made)} made; ${seconds.predicted.toFixed(1)} s predicted, ${seconds.made.toFixed(1)} taken`,
    );
  return [errorRow('bytes', compared, 10), errorRow('seconds', compared, 25)];
}

async function renderOne({ file, clip }: MixedClip, measured: readonly MeasuredProxy[]) {
  const planned = planOne(clip, measured);
  await using made = await tryStep(render, {
    clips: [{ file, facts: clip.facts }],
    outputs: { 'proxy-planning': planned },
  });
  if (made.output?.file == null)
    throw new Error(`${clip.path}: ${made.findings.map(({ sentence }) => sentence).join(' ')}`);
  return made.output;
}

function planOne(clip: MixedClip['clip'], measured: readonly MeasuredProxy[]): ClipWithProxy {
  const [plan] = planProxies([clip], POLICY, { groups: [], measured, space: null }).clips;
  if (plan?.state !== 'planned') throw new Error(`${clip.path} is not planned: ${plan?.why}`);
  return plan;
}

function errorRow(what: 'bytes' | 'seconds', compared: readonly Compared[], limit: number): Row {
  const errors = compared.map((one) => ({ name: one.name, error: errorOf(one[what]) }));
  const worst = errors.reduce((most, one) => (one.error > most.error ? one : most));
  const total = errorOf({
    predicted: compared.reduce((sum, one) => sum + one[what].predicted, 0),
    made: compared.reduce((sum, one) => sum + one[what].made, 0),
  });
  return {
    bench: 'proxy-render',
    what: `${what} of ${compared.length} proxies of four recorders, predicted after as many others: off by`,
    unit: '%',
    value: total,
    samples: [total],
    target: { sense: 'at most', limit },
    notes: [`of single clips the worst, ${worst.name}, was off by ${worst.error.toFixed(1)} %`],
  };
}

function errorOf({ predicted, made }: Pair): number {
  return (Math.abs(predicted - made) / made) * 100;
}

function mega(bytes: number): string {
  return (bytes / 1e6).toFixed(2);
}
