import { type AnswerOf, type ApiClient, type Given, ProblemError } from '@quayside/api-client';
import { QuaysideError } from '@quayside/shoot';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { countText, sizeText } from '../screen/quantities.ts';
import { say } from '../screen/say.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

export interface RetryOptions {
  readonly config?: string;
  readonly step?: string;
  readonly destination?: string;
}

type RollPlan = AnswerOf<'post', '/v1/rolls/{id}/retry'>;
type Filter = NonNullable<Given<'post', '/v1/rolls/{id}/retry'>['body']>;

/** Takes up again what failed of a roll, of a shoot or in one run, whichever the id is of: all of it, or what the filter says. */
export async function retry(id: string, { config, ...filter }: RetryOptions): Promise<ExitCode> {
  const service = await reachServiceOf(config === undefined ? {} : { config });
  const kind = await kindOf(service, id);
  // What is no step is refused by the service, which names those there are.
  const body = filter as Filter;
  if (kind === 'run') refuseNoRun(id, Object.keys(filter));
  if (kind === 'roll') return tell(await service.post('/v1/rolls/{id}/retry', { path: { id }, body }));
  const { sentence, rolls } = await service.post(`/v1/${kind}s/{id}/retry`, { path: { id }, body });
  say(sentence, ...(kind === 'run' ? [] : rolls.map((plan) => `  ${plan.id}: ${plan.sentence}`)));
  return codeFor(rolls);
}

/** Asked for before anything is changed, so that the record of changes holds no wrong guess. */
async function kindOf(service: ApiClient, id: string): Promise<'roll' | 'shoot' | 'run'> {
  for (const kind of ['roll', 'shoot'] as const) {
    try {
      await service.get(`/v1/${kind}s/{id}`, { path: { id } });
      return kind;
    } catch (error) {
      // An id that no roll could have is refused as such.
      const isAnswer = error instanceof ProblemError && error.is('roll-unknown', 'shoot-unknown', 'bad-request');
      if (!isAnswer) throw error;
    }
  }
  return 'run';
}

function tell(plan: RollPlan): ExitCode {
  say(plan.sentence, ...Object.entries(plan.destinations).map(([name, much]) => `  ${name}: ${amountText(much)}`));
  return codeFor([plan]);
}

function amountText({ files, bytes }: RollPlan['destinations'][string]): string {
  return files === 0 ? 'the manifest only' : `${countText(files, 'file')}, ${sizeText(bytes)}`;
}

function codeFor(plans: readonly RollPlan[]): ExitCode {
  const isWaiting = plans.some(
    ({ drivePresent, destinations }) => !drivePresent && Object.keys(destinations).length > 0,
  );
  return isWaiting ? EXIT.waiting : EXIT.ok;
}

function refuseNoRun(id: string, filters: readonly string[]): void {
  // Every run's id names its step and its subject.
  if (!id.includes('-'))
    throw new QuaysideError({
      code: 'RETRY_UNKNOWN',
      sentence: `The service knows no roll, no shoot and no run "${id}". "quayside status" shows the rolls, "quayside shoots" the shoots.`,
      retry: 'never',
    });
  if (filters.length > 0)
    throw new QuaysideError({
      code: 'RUN_FILTERED',
      sentence: `"${id}" is no roll and no shoot that the service knows, and a run takes no --${filters.join(' and no --')}: its id says that already.`,
      retry: 'never',
    });
}
