import { QuaysideError } from '@quayside/shoot';
import { expect, expectTypeOf, it } from 'vitest';
import { z } from 'zod';
import type { Capabilities } from './capabilities.ts';
import { runStep } from './run-step.ts';
import { definePlugin, defineStep, type Step, type StepContext } from './step.ts';

const unused = (): never => {
  throw new Error('Nothing may call this.');
};
const told: string[] = [];
const context = {
  signal: new AbortController().signal,
  log: (sentence: string) => void told.push(sentence),
  progress: () => {},
  footage: { copy: unused, recopy: unused, readBack: unused },
  rolls: {
    takeIn: unused,
    roll: unused,
    parcelFiles: unused,
    noteCopies: unused,
    noteReadBack: unused,
    destinations: unused,
  },
  manifests: { seal: unused, restoreLedger: unused, attest: unused, move: unused, judge: unused },
  facts: { read: unused, known: unused, keep: unused },
  shoots: { material: unused, places: unused, measuredProxies: unused, roomForProxies: unused, write: unused },
  messages: { tell: async ({ sentence }: { sentence: string }) => void told.push(sentence) },
} satisfies StepContext & Capabilities;

const greet = defineStep({
  name: 'greet',
  scope: 'roll',
  after: [],
  needs: ['messages'],
  config: z.object({ greeting: z.string().default('Hello') }),
  input: z.object({ to: z.string() }),
  output: z.object({ length: z.coerce.number() }),
  async run({ config, input, context: given }) {
    expectTypeOf(config.greeting).toEqualTypeOf<string>();
    // @ts-expect-error -- a step gets only what it asks for in `needs`
    expect(given.footage).toBeUndefined();
    const sentence = `${config.greeting}, ${input.to}`;
    await given.messages.tell({ severity: 'info', subject: input.to, matter: 'greeting', sentence });
    return { length: String(sentence.length) };
  },
});

async function codeOf(run: Promise<unknown>): Promise<string> {
  return run.then(
    () => 'none',
    (error: unknown) => (error instanceof QuaysideError ? error.code : String(error)),
  );
}

it('gives a step its parsed config and input, and what it needs, and parses its output', async () => {
  expect(await runStep(greet, { config: {}, input: { to: 'kiln' } }, context)).toEqual({ length: 11 });
  expect(told).toEqual(['Hello, kiln']);
});

it.each([
  ['BAD_CONFIG', { config: { greeting: 1 }, input: { to: 'kiln' } }],
  ['BAD_INPUT', { config: {}, input: {} }],
])('refuses what does not fit the schema with %s', async (code, raw) => {
  expect(await codeOf(runStep(greet, raw, context))).toBe(code);
});

it('refuses an output of the wrong shape and names the step and the place', async () => {
  const wrong = { ...greet, run: async () => ({ length: 'many' }) };
  await expect(runStep(wrong, { config: {}, input: { to: 'kiln' } }, context)).rejects.toThrow(
    /step "greet".*"length"/,
  );
});

it('unlike steps fit one plugin, which carries the version of the contract', () => {
  const other = defineStep({
    ...greet,
    name: 'other',
    input: z.object({ parcel: z.number() }),
    async run({ input }) {
      return { length: input.parcel };
    },
  });
  const plugin = definePlugin({ name: 'greetings', version: '1', steps: [greet, other] });
  expectTypeOf(plugin.steps).toEqualTypeOf<readonly Step[]>();
  expect(plugin.contract).toBe(1);
});

it('a run that returns the wrong type does not compile', () => {
  defineStep({
    ...greet,
    output: z.object({ frames: z.number() }),
    // @ts-expect-error -- the output schema wants `frames`
    run: async () => ({ length: 1 }),
  });
});
