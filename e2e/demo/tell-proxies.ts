import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { printBytes } from '@quayside/proxy-planning';
import type { Takes } from './tell-takes.ts';

/** The rules of the demo, whose clips are small: every picture gets an H.264 proxy of half its size. */
export const PROXIES = { rules: [{ name: 'the demo', make: 'h264', within: '160x90', megabits: 60 }] };

/** The parts of the plan, as the API answers, that are told here. */
interface Plan {
  readonly isCurrent: boolean;
  readonly totals: { readonly planned: { readonly count: number } } | null;
  readonly made: {
    readonly count: number;
    readonly bytes: number;
    readonly seconds: number;
    readonly predicted: { readonly bytes: number; readonly seconds: number };
  };
  readonly clips: readonly {
    readonly recorder: string;
    readonly path: string;
    readonly seconds?: { readonly basis: string };
    readonly rendering: { readonly state: string; readonly why: string };
  }[];
}

const WITHIN_MS = 240_000;
const REPORT_WITHIN_MS = 60_000;

/** Tells what the proxies came to, beside what the plan had said of them, and where the report is that shows each. */
export async function tellProxies({ service, shootId, root, say }: Takes): Promise<void> {
  say('');
  say('Proxies, planned before they were made, and made while no drive was being taken in:');
  const answer = await service
    .until(
      'the proxies are made',
      () => whenSettled(() => service.get(`/v1/shoots/${shootId}/proxies?limit=200`)),
      WITHIN_MS,
    )
    .catch(() => null);
  if (answer === null) return say('  They are still being made; nothing waits for them.');
  for (const { recorder, path, rendering } of answer.clips)
    if (rendering.state === 'failed') say(`  ${recorder} ${path}: ${rendering.why}`);
  const { made, totals } = answer;
  const { count, bytes, seconds, predicted } = made;
  say(
    `  ${count} of ${totals?.planned.count ?? 0} made: ${printBytes(bytes)} where ${printBytes(predicted.bytes)} were planned, ${seconds.toFixed(1)} s of work where ${predicted.seconds.toFixed(1)} s were.`,
  );
  if (answer.clips.some((clip) => clip.seconds?.basis === 'never measured here'))
    say('  This machine had made none before, so the time was a guess; the next plan knows what they take here.');
  const report = join(root, shootId, 'records', 'report.html');
  // It is written again once the last of them is filed.
  await service
    .until('the report tells of all', () => whenTold(report, count), REPORT_WITHIN_MS)
    .then(() => say(`  Clip by clip: ${report}`))
    .catch(() => say(`  Clip by clip, as soon as it is written again: ${report}`));
}

async function whenTold(report: string, count: number): Promise<true | null> {
  const text = await readFile(report, 'utf8').catch(() => '');
  return text.includes(`${count} clips have it`) ? true : null;
}

async function whenSettled(ask: () => Promise<Plan>): Promise<Plan | null> {
  const answer = await ask();
  const isOver = answer.clips.every(({ rendering: { state } }) => !UNSETTLED.has(state));
  return answer.isCurrent && answer.totals !== null && isOver ? answer : null;
}

const UNSETTLED: ReadonlySet<string> = new Set(['planned', 'waiting', 'rendering', 'held-up']);
