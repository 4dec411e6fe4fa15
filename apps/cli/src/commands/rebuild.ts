import { setTimeout as wait } from 'node:timers/promises';
import type { AnswerOf, ApiClient } from '@quayside/api-client';
import { QuaysideError } from '@quayside/shoot';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { printable } from '../screen/printable.ts';
import { say, sayJson } from '../screen/say.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

type Rebuild = AnswerOf<'post', '/v1/rebuild'>;
type RebuildReport = NonNullable<Rebuild['report']>;

export interface RebuildOptions {
  readonly config?: string;
  readonly json?: boolean;
  readonly shoot?: string;
}

const LOOK_EVERY_MS = 500;

/** Has the running service hold its view against the records beside the footage, waits for it, and tells every difference. */
export async function rebuild(options: RebuildOptions, signal: AbortSignal): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const body = options.shoot === undefined ? {} : { shootId: options.shoot };
  const { id } = await service.post('/v1/rebuild', { body });
  const ended = await untilEnded(service, id, signal);
  if (ended === null) return EXIT.interrupted;
  if (ended.failure !== null) throw new QuaysideError(ended.failure);
  if (ended.report === null) throw lost();
  if (options.json === true) sayJson(ended.report);
  else say(...linesOf(ended.report).map(printable));
  const isAllSettled = ended.report.unread.length === 0 && ended.report.rolls.every(({ tookOver }) => tookOver);
  return isAllSettled ? EXIT.ok : EXIT.partial;
}

/** Null when a person ends the waiting; the service goes on with it. */
async function untilEnded(service: ApiClient, id: string, signal: AbortSignal): Promise<Rebuild | null> {
  while (!signal.aborted) {
    const { rebuild: last } = await service.get('/v1/rebuild', { signal });
    if (last?.id !== id) throw lost();
    if (last.state === 'done' || last.state === 'failed') return last;
    await wait(LOOK_EVERY_MS, undefined, { signal }).catch(() => {});
  }
  return null;
}

function linesOf({ sentence, rolls, unread }: RebuildReport): readonly string[] {
  return [
    ...rolls.flatMap(({ differences, outcome }) => [...differences.map((one) => one.sentence), `  ${outcome}`]),
    ...unread.map(({ why }) => why),
    sentence,
  ];
}

function lost(): QuaysideError {
  return new QuaysideError({
    code: 'REBUILD_LOST',
    sentence:
      'Redis was lost while the view was being remade; the service remakes all of it by itself. Ask again in a minute to see whether anything differs.',
    retry: 'later',
  });
}
