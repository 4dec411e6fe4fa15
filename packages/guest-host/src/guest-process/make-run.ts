import type { Plugin, Step } from '@quayside/step-sdk';
import { firstNotJson } from '../channel/first-not-json.ts';
import type { GuestTrouble, MessageFromGuest } from '../channel/message-from-guest.ts';
import type { RunMessage } from '../channel/message-to-guest.ts';
import { parseWith } from './parse-with.ts';
import { toolsOfRun } from './tools-of-run.ts';
import { troubleOf } from './trouble-of.ts';

export interface RunUnderWay {
  readonly run: string;
  readonly ended: Promise<RunEnding>;
  abort(why: string): void;
}

type RunEnding =
  | { readonly type: 'done'; readonly output: unknown }
  | { readonly type: 'skipped'; readonly why: string }
  | { readonly type: 'failed'; readonly trouble: GuestTrouble };

/** Makes one run of one step. `ended` never rejects; what the run says later is not passed on. */
export function makeRun(plugin: Plugin, message: RunMessage, say: (message: MessageFromGuest) => void): RunUnderWay {
  const stop = new AbortController();
  let isOver = false;
  const ended = endOf(plugin, message, {
    signal: stop.signal,
    say: (said) => {
      if (!isOver) say(said);
    },
  }).finally(() => {
    isOver = true;
  });
  return { run: message.run, ended, abort: (why) => stop.abort(new Error(why)) };
}

interface Surroundings {
  readonly signal: AbortSignal;
  readonly say: (message: MessageFromGuest) => void;
}

async function endOf(plugin: Plugin, message: RunMessage, surroundings: Surroundings): Promise<RunEnding> {
  try {
    const step = plugin.steps.find(({ name }) => name === message.step);
    if (step === undefined) return failed('no-step', `There is no step "${message.step}".`);
    const config = await parseWith(step.config, message.config);
    if (config.fault !== null) return failed('bad-config', config.fault);
    const why = await whyNot(step, { subject: message.subject, config: config.value });
    if (why !== null) return { type: 'skipped', why };
    // Whose scope is whose the host has seen to; a step's own types say the rest.
    const run = { ...toolsOfRun(step, message, surroundings), config: config.value } as unknown as Parameters<
      Step['run']
    >[0];
    return await outputOf(step, await step.run(run));
  } catch (error) {
    return { type: 'failed', trouble: troubleOf(error) };
  }
}

async function whyNot(
  step: Step,
  facts: { readonly subject: RunMessage['subject']; readonly config: unknown },
): Promise<string | null> {
  if (step.when === undefined) return null;
  const answer = await step.when(facts);
  if (answer === true) return null;
  return typeof answer === 'string' ? answer.slice(0, 1000) : 'The step does not apply to it.';
}

async function outputOf(step: Step, value: unknown): Promise<RunEnding> {
  const parsed = await parseWith(step.output, value);
  if (parsed.fault !== null) return failed('bad-output', parsed.fault);
  const output = step.output === undefined ? null : parsed.value;
  const place = firstNotJson(output);
  if (place !== null) return failed('bad-output', `at "${place}" is something that JSON cannot hold`);
  return { type: 'done', output };
}

function failed(kind: GuestTrouble['kind'], text: string): RunEnding {
  return { type: 'failed', trouble: { kind, code: null, text: text.slice(0, 2000), retry: 'never' } };
}
