import { type FileEntry, type FileFacts, type MediaFacts, QuaysideError, type Roll } from '@quayside/shoot';
import { runStep, type Capabilities, type StepContext } from '@quayside/step-sdk/built-in';
import { expect, it } from 'vitest';
import { probePlugin } from './index.ts';
import { probe } from './probe.ts';

const NOTES: MediaFacts = {
  kind: 'other',
  container: null,
  durationMs: null,
  picture: null,
  startTimecode: null,
  sound: [],
  wave: null,
  device: { make: null, model: null, serial: null },
  reel: null,
  created: null,
  damage: [],
};
const unused = (): never => expect.unreachable('the step may use nothing but facts, and the files of its roll');

interface Drive {
  readonly files: readonly FileEntry[];
  readonly known?: readonly FileFacts[];
  readonly read?: (path: string) => Promise<MediaFacts>;
}

/** The step's context over files that stand in two parcels; `kept` and `asked` tell what the step did. */
function contextOf({ files, known = [], read = async () => NOTES }: Drive): {
  context: StepContext & Capabilities;
  kept: FileFacts[];
  asked: string[];
} {
  const kept: FileFacts[] = [];
  const asked: string[] = [];
  const halves = [files.slice(0, 1), files.slice(1)].filter((half) => half.length > 0);
  // The step looks at nothing of a roll but its parcels.
  const roll = { parcels: halves.map((_, index) => ({ index })) } as unknown as Roll;
  const context: StepContext & Capabilities = {
    signal: new AbortController().signal,
    log: () => {},
    progress: () => {},
    footage: { copy: unused, recopy: unused, readBack: unused },
    rolls: {
      takeIn: unused,
      roll: async () => roll,
      parcelFiles: async (_rollId, _visit, index) => halves[index] ?? [],
      noteCopies: unused,
      noteReadBack: unused,
      destinations: unused,
    },
    manifests: { seal: unused, restoreLedger: unused, attest: unused, move: unused, judge: unused },
    messages: { tell: unused },
    shoots: { material: unused, places: unused, measuredProxies: unused, roomForProxies: unused, write: unused },
    facts: {
      read: async (_rollId, { path }) => {
        asked.push(path);
        return read(path);
      },
      known: async () => known,
      keep: async (_rollId, files_) => void kept.push(...files_),
    },
  };
  return { context, kept, asked };
}

const slow = async (): Promise<MediaFacts> => new Promise((resolve) => setTimeout(resolve, 60, NOTES));
const file = (path: string, change: Partial<FileEntry> = {}): FileEntry => ({
  path,
  sizeInBytes: 100,
  modifiedMs: 1000,
  ...change,
});
const run = (context: StepContext & Capabilities, withinMs: number | null = null): Promise<unknown> =>
  runStep(probe, { config: {}, input: { rollId: 'wheel-001', visit: 1, withinMs } }, context);

it('reads the clips of all parcels, the newest first, and keeps what it finds with the size and time they had', async () => {
  const files = [file('OLD.MOV'), file('NEW.MOV', { modifiedMs: 3000 }), file('MID.WAV', { modifiedMs: 2000 })];
  const { context, kept, asked } = contextOf({ files });
  expect(await run(context)).toEqual({ visit: 1, isComplete: true, readCount: 3, unread: [] });
  expect(asked).toEqual(['NEW.MOV', 'MID.WAV', 'OLD.MOV']);
  expect(kept.toSorted((one, other) => one.modifiedMs - other.modifiedMs)).toEqual(
    [files[0], files[2], files[1]].map((one) => ({ ...one, facts: NOTES })),
  );
});

it('looks into nothing that is neither named like media nor large, and into nothing twice', async () => {
  const files = [file('A.MOV'), file('A.XML'), file('NOTES'), file('BIG.BIN', { sizeInBytes: 2 ** 30 })];
  const known = [{ ...file('A.MOV'), facts: NOTES }];
  const { context, asked } = contextOf({ files, known });
  expect(await run(context)).toMatchObject({ isComplete: true, readCount: 1 });
  expect(asked).toEqual(['BIG.BIN']);
});

it('looks into a file again that has become another one under its old name', async () => {
  const known = [{ ...file('A.MOV'), facts: NOTES }];
  const { context, asked } = contextOf({ files: [file('A.MOV', { sizeInBytes: 200 })], known });
  await run(context);
  expect(asked).toEqual(['A.MOV']);
});

it('leaves the rest for another run when its time is over', async () => {
  const files = ['A.MOV', 'B.MOV', 'C.MOV', 'D.MOV', 'E.MOV'].map((path) => file(path));
  const { context, kept } = contextOf({ files, read: slow });
  expect(await run(context, 30)).toMatchObject({ isComplete: false });
  expect(kept.length).toBeLessThan(files.length);
});

it('a file that cannot be read is told, and holds up no other', async () => {
  const failure = { code: 'FILE_CHANGED', sentence: 'It is longer now.', retry: 'never' as const };
  const read = async (path: string): Promise<MediaFacts> => {
    if (path === 'A.MOV') throw new QuaysideError(failure);
    return NOTES;
  };
  const { context, kept } = contextOf({ files: [file('A.MOV'), file('B.MOV')], read });
  expect(await run(context)).toEqual({
    visit: 1,
    isComplete: true,
    readCount: 1,
    unread: [{ path: 'A.MOV', failure }],
  });
  expect(kept.map(({ path }) => path)).toEqual(['B.MOV']);
});

it('a drive that is away stays an interruption', async () => {
  const away = new QuaysideError({ code: 'SOURCE_GONE', sentence: 'The drive is not there.', retry: 'source' });
  const { context } = contextOf({ files: [file('A.MOV')], read: () => Promise.reject(away) });
  await expect(run(context)).rejects.toMatchObject({ code: 'SOURCE_GONE', retry: 'source' });
});

it('asks for nothing but facts and the files of its roll', () => {
  expect(probePlugin.steps.map(({ name, scope, needs }) => [name, scope, needs])).toEqual([
    ['probe', 'roll', ['facts', 'rolls']],
  ]);
});
