import type { AnswerOf, ApiClient, Given } from '@quayside/api-client';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { durationText, momentText } from '../screen/quantities.ts';
import { say, sayJson } from '../screen/say.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

type Run = AnswerOf<'get', '/v1/runs'>['runs'][number];
type LogLine = AnswerOf<'get', '/v1/runs/{id}'>['log']['head'][number];
type Query = NonNullable<Given<'get', '/v1/runs'>['query']>;

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

interface Filter extends Options {
  readonly shoot?: string;
  readonly step?: string;
  readonly state?: string;
  readonly last: number;
}

/** Lists the last run of each plugin's step on each of its subjects, the newest first, or shows one whole with its log. */
export async function listRuns(id: string | undefined, options: Filter): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  if (id !== undefined) return showRun(service, id, options);
  const { shoot, step, state, last } = options;
  const query = {
    limit: Math.min(last, 2000),
    ...(shoot === undefined ? {} : { shoot }),
    ...(step === undefined ? {} : { step }),
    // What is no state is refused by the service, which names those there are.
    ...(state === undefined ? {} : { state: state as NonNullable<Query['state']> }),
  };
  const { runs } = await service.get('/v1/runs', { query });
  if (options.json === true) sayJson(runs);
  else if (runs.length === 0) say("No step of a plugin has such a run. They begin when a roll's copies are proven.");
  else say(...columns([['RUN', 'STEP', 'ON', 'STATE', 'TOOK', 'WHY'], ...runs.map(rowOf)]));
  return EXIT.ok;
}

/** Stops a run that is under way, or leaves one out until something of it changes. */
export async function steerRun(action: 'cancel' | 'skip', id: string, options: Options): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  await service.post(`/v1/runs/{id}/${action}`, { path: { id } });
  say(action === 'cancel' ? `Run ${id} is being stopped.` : `Run ${id} is left out until something of it changes.`);
  return EXIT.ok;
}

async function showRun(service: ApiClient, id: string, options: Options): Promise<ExitCode> {
  const run = await service.get('/v1/runs/{id}', { path: { id } });
  if (options.json === true) {
    sayJson(run);
    return EXIT.ok;
  }
  say(`${run.step} on ${run.subject.kind} ${printable(run.subject.id)}: ${run.state}`, `  ${printable(run.why)}`);
  if (run.failure !== null) say(`  ${printable(run.failure.sentence)}`);
  if (run.progress !== null) say(`  ${progressText(run.progress)}`);
  if (run.waits !== null && run.waits.why !== run.why) say(`  ${waitText(run.waits)}`);
  if (run.filed !== null)
    say(
      `  Its files lie at ${[run.filed.destination, ...run.filed.alsoAt].join(', ')} in ${printable(run.filed.folder)}.`,
    );
  say(`  It gave ${printable(JSON.stringify(run.output)).slice(0, 2000)}`);
  const { head, droppedLines, tail } = run.log;
  say(...head.map(lineOf), ...(droppedLines > 0 ? [`  ... ${droppedLines} lines ...`] : []), ...tail.map(lineOf));
  return EXIT.ok;
}

function rowOf({ id, step, subject, state, tookMs, failure, why, progress, waits }: Run): readonly string[] {
  const took = tookMs === null ? '' : `${(tookMs / 1000).toFixed(1)} s`;
  const reason = printable(failure?.sentence ?? why);
  const more = waits === null || waits.why === why ? '' : ` ${waitText(waits)}`;
  const far = progress === null ? '' : ` ${progressText(progress)}`;
  return [id, step, printable(subject.id), state, took, `${reason}${more}${far}`];
}

function waitText({ why, notBefore }: NonNullable<Run['waits']>): string {
  return notBefore === null ? printable(why) : `${printable(why)} Not before ${momentText(notBefore)}.`;
}

function progressText({ fraction, text, secondsLeft }: NonNullable<Run['progress']>): string {
  const left = secondsLeft === null ? '' : `, ${durationText(secondsLeft)} left`;
  return `${Math.round(fraction * 100)} %${left}${text === null ? '' : `: ${printable(text)}`}`;
}

function lineOf({ at, level, text }: LogLine): string {
  return `  ${momentText(at)} ${level}: ${printable(text)}`;
}
