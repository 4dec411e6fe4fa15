import type { Clip, ClipSubject, RollSubject, ShootSubject } from '@quayside/shoot';
import { expect, expectTypeOf, it } from 'vitest';
import { z } from 'zod';
import { definePlugin, fullNameOf } from './define-plugin.ts';
import { defineStep } from './define-step.ts';
import type { OutputOf } from './dependency.ts';
import type { Step } from './step.ts';

const measure = defineStep({
  name: 'measure',
  scope: 'clip',
  after: ['probe'],
  config: z.object({ target: z.number().default(-23) }),
  output: z.object({ loudness: z.coerce.number(), tracks: z.array(z.object({ peak: z.number().optional() })) }),
  secrets: ['licence'],
  asks: ['child-processes'],
  when: ({ subject, config }) => {
    expectTypeOf(config.target).toEqualTypeOf<number>();
    return subject.clip.facts.sound.length > 0 || 'It has no sound.';
  },
  async run({ subject, config, outputs, secrets, signal, copies }) {
    expectTypeOf(subject).toEqualTypeOf<ClipSubject>();
    expectTypeOf(config).toEqualTypeOf<{ target: number }>();
    expectTypeOf<keyof typeof outputs>().toEqualTypeOf<'proxy-planning'>();
    expectTypeOf(secrets).toEqualTypeOf<Readonly<Record<'licence', string>>>();
    expectTypeOf(signal).toEqualTypeOf<AbortSignal>();
    expectTypeOf(copies.of(subject.clip)).toEqualTypeOf<string>();
    // @ts-expect-error -- only the secrets that it names
    expect(secrets.password).toBeUndefined();
    return { loudness: '-23', tracks: [] };
  },
});

const cover = defineStep({ name: 'cover', scope: 'shoot', run: async () => {} });

const sum = defineStep({
  name: 'sum',
  scope: 'roll',
  after: [measure, cover, 'proxies/render', 'sync-grouping'],
  output: z.object({ loudest: z.number().nullable() }),
  async run({ subject, config, outputs, secrets }) {
    expectTypeOf(subject).toEqualTypeOf<RollSubject>();
    expectTypeOf(config).toEqualTypeOf<Record<string, never>>();
    expectTypeOf<keyof typeof secrets>().toEqualTypeOf<never>();
    // A narrower step has an output for each of its subjects, a wider one has one, and a name alone tells no type.
    expectTypeOf(outputs.measure).toEqualTypeOf<
      Readonly<Record<string, { loudness: number; tracks: { peak?: number | undefined }[] }>>
    >();
    expectTypeOf(outputs.cover).toEqualTypeOf<null>();
    expectTypeOf(outputs['proxies/render']).toEqualTypeOf<unknown>();
    // @ts-expect-error -- a built-in step gives order alone
    expect(outputs['sync-grouping']).toBeUndefined();
    return { loudest: null };
  },
});

it('infers what comes in and out of a step from its schemas and from the steps that it comes after', () => {
  expectTypeOf<OutputOf<typeof sum>>().toEqualTypeOf<{ loudest: number | null }>();
  const last = defineStep({
    name: 'last',
    scope: 'shoot',
    after: [sum],
    async run({ subject, outputs }) {
      expectTypeOf(subject).toEqualTypeOf<ShootSubject>();
      expectTypeOf(subject.clips).toEqualTypeOf<Clip[]>();
      expectTypeOf(outputs.sum).toEqualTypeOf<Readonly<Record<string, { loudest: number | null }>>>();
    },
  });
  expectTypeOf<OutputOf<typeof last>>().toEqualTypeOf<null>();
});

it('takes unlike steps into one plugin, and knows afterwards whose each of them is', () => {
  expect(fullNameOf(measure)).toBeNull();
  const plugin = definePlugin({ apiVersion: 1, name: 'loudness', version: '1.0.0', steps: [measure, cover, sum] });
  expectTypeOf(plugin.steps).toEqualTypeOf<readonly Step[]>();
  // A plugin that builds on another's step names it in `after`; registering it as well does not make it its own.
  definePlugin({ apiVersion: 1, name: 'other', version: '1.0.0', steps: [measure] });
  expect(fullNameOf(measure)).toBe('loudness/measure');
});

it('does not compile what would fail at night', () => {
  defineStep({
    name: 'wrong-output',
    scope: 'clip',
    output: z.object({ frames: z.number() }),
    // @ts-expect-error -- the output schema wants `frames`
    run: async () => ({ length: 1 }),
  });
  defineStep({
    name: 'not-json',
    scope: 'clip',
    // @ts-expect-error -- a date does not survive being stored
    output: z.object({ at: z.date() }),
    run: async () => ({ at: new Date() }),
  });
  defineStep({
    name: 'unknown-built-in',
    scope: 'clip',
    // @ts-expect-error -- no built-in step has this name
    after: ['prove'],
    run: async () => {},
  });
  defineStep({
    name: 'unknown-grant',
    scope: 'clip',
    // @ts-expect-error -- nobody can grant this
    asks: ['everything'],
    run: async () => {},
  });
  // @ts-expect-error -- there is no such scope
  defineStep({ name: 'unknown-scope', scope: 'take', run: async () => {} });
  // @ts-expect-error -- a plugin says for which contract it was written
  definePlugin({ name: 'no-api', version: '1', steps: [] });
  // @ts-expect-error -- and this contract knows no version 2
  definePlugin({ apiVersion: 2, name: 'too-new', version: '1', steps: [] });
});
