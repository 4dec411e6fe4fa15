import { type MediaFacts, QuaysideError } from '@quayside/shoot';
import { runStep, type Capabilities, type StepContext } from '@quayside/step-sdk';
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
const unused = (): never => expect.unreachable('the step may use nothing but facts');

function contextWith(read: Capabilities['facts']['read']): StepContext & Capabilities {
  return {
    signal: new AbortController().signal,
    log: () => {},
    progress: () => {},
    footage: { copy: unused, readBack: unused },
    rolls: {
      takeIn: unused,
      roll: unused,
      parcelFiles: unused,
      noteCopies: unused,
      noteReadBack: unused,
      destinations: unused,
    },
    manifests: { seal: unused, move: unused, judge: unused },
    messages: { tell: unused },
    facts: { read },
  };
}
const input = { rollId: 'wheel-001', path: 'NOTES.TXT' };

it('gives a file’s facts under its roll and path, also when it is no media', async () => {
  const asked: string[] = [];
  const context = contextWith(async (rollId, path) => {
    asked.push(`${rollId} ${path}`);
    return NOTES;
  });
  expect(await runStep(probe, { config: {}, input }, context)).toEqual({ ...input, facts: NOTES });
  expect(asked).toEqual(['wheel-001 NOTES.TXT']);
});

it('a drive that is away stays an interruption', async () => {
  const away = new QuaysideError({ code: 'SOURCE_GONE', sentence: 'The drive is not there.', retry: 'source' });
  const run = runStep(
    probe,
    { config: {}, input },
    contextWith(() => Promise.reject(away)),
  );
  await expect(run).rejects.toMatchObject({ code: 'SOURCE_GONE', retry: 'source' });
});

it('asks for nothing but facts', () => {
  expect(probePlugin.steps.map(({ name, scope, needs }) => [name, scope, needs])).toEqual([
    ['probe', 'clip', ['facts']],
  ]);
});
