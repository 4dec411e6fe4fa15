import { readFile } from 'node:fs/promises';
import { basename, join, sep } from 'node:path';
import { TrackLoudness } from '@quayside/plugin-loudness';
import { z } from 'zod';
import type { Service } from '../service/start-service.ts';
import type { Takes } from './tell-takes.ts';

const PLUGINS = join(import.meta.dirname, '../../plugins');
const STEPS = ['loudness/measure', 'contact-sheet/draw'] as const;

/** Our guests, for the demo's configuration: each is granted ffmpeg. */
export const GUESTS = ['loudness', 'contact-sheet', 'proxy-render'].map((name) => ({
  use: join(PLUGINS, name),
  grants: ['child-processes'],
}));

const Runs = z.object({ runs: z.array(z.object({ id: z.string(), step: z.string(), state: z.string() })) });
const Run = z.object({
  subject: z.object({ id: z.string() }),
  output: z.unknown(),
  filed: z.object({ destination: z.string(), folder: z.string() }).nullable(),
});
const Loudness = z.object({ tracks: z.array(TrackLoudness) });
const Sheets = z.object({ sheets: z.array(z.object({ file: z.string() })) });

export interface GuestsTold extends Takes {
  readonly destinations: readonly { readonly name: string; readonly path: string }[];
  /** How many clips have sound. */
  readonly clipCount: number;
}

/** Tells how loud each clip is, and where the contact sheets lie. Verdicts did not wait for this; it says so when it takes long. */
export async function tellGuests({ service, shootId, root, say, destinations, clipCount }: GuestsTold): Promise<void> {
  say('');
  say('Plugins, each in a process of its own, after the footage was proven:');
  const runs = await ended(service, shootId, clipCount);
  if (runs === null) return say('  They are still at work; nothing waits for them.');
  const measured: Measured[] = [];
  const drawn: string[] = [];
  for (const { id, step, state } of runs) {
    const { subject, output, filed } = Run.parse(await service.get(`/v1/runs/${id}`));
    if (state !== 'done') say(`  ${step} on ${subject.id}: ${state}`);
    else if (step === STEPS[0])
      measured.push(...Loudness.parse(output).tracks.map((track) => ({ clip: subject.id, track })));
    else if (filed !== null) {
      const at = destinations.find(({ name }) => name === filed.destination)?.path ?? '';
      drawn.push(...Sheets.parse(output).sheets.map(({ file }) => join(at, filed.folder, file)));
    }
  }
  say(`  loudness measured ${measured.length} sound tracks, the loudest first:`);
  for (const line of loudest(measured)) say(`    ${line}`);
  say(`  contact-sheet drew ${drawn.length} pictures, with the timecode below every frame:`);
  for (const line of drawn.toSorted()) say(`    ${line}`);
  await tellReport({ service, shootId, root: rootOf(drawn[0]) ?? root, say }, drawn);

  function rootOf(sheet: string | undefined): string | undefined {
    return destinations.find(({ path }) => sheet?.startsWith(`${path}${sep}`))?.path;
  }
}

/** The report is written again once the plugins have ended; it says so when that takes long. */
async function tellReport({ service, shootId, root, say }: Takes, drawn: readonly string[]): Promise<void> {
  const report = join(root, shootId, 'records', 'report.html');
  const shows = async (): Promise<true | null> => {
    const page = await readFile(report, 'utf8');
    return drawn.every((path) => page.includes(`${encodeURIComponent(basename(path))}" alt=`)) ? true : null;
  };
  const isShown = await service.until('the report shows what the plugins made', shows, 60_000).catch(() => false);
  say(`  The pictures and figures ${isShown ? 'stand' : 'will stand'} in the report: ${report}`);
}

interface Measured {
  readonly clip: string;
  readonly track: TrackLoudness;
}

function loudest(measured: readonly Measured[]): readonly string[] {
  const level = ({ track }: Measured): number => track.integrated ?? Number.NEGATIVE_INFINITY;
  return measured
    .toSorted((one, other) => level(other) - level(one))
    .slice(0, 5)
    .map(
      ({ clip, track: { integrated, truePeak } }) =>
        `${told(integrated, 'LUFS')}, true peak ${told(truePeak, 'dBTP')}  ${clip}`,
    );
}

function told(level: number | null, unit: string): string {
  return level === null ? 'silent' : `${level.toFixed(1)} ${unit}`;
}

async function ended(
  service: Service,
  shootId: string,
  clipCount: number,
): Promise<z.output<typeof Runs>['runs'] | null> {
  const look = async (): Promise<z.output<typeof Runs>['runs'] | null> => {
    const all = Runs.parse(await service.get(`/v1/runs?shoot=${shootId}&limit=200`)).runs;
    const runs = all.filter(({ step }) => STEPS.some((name) => name === step));
    const isOver = runs.every(({ state }) => !['waiting', 'running'].includes(state));
    const count = (step: string): number => runs.filter((run) => run.step === step).length;
    return isOver && count(STEPS[0]) >= clipCount && count(STEPS[1]) > 0 ? runs : null;
  };
  return service.until('the plugins have run', look, 120_000).catch(() => null);
}
