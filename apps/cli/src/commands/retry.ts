import { QuaysideError } from '@quayside/shoot';
import { z } from 'zod';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { countText, sizeText } from '../screen/quantities.ts';
import { say } from '../screen/say.ts';
import { reachService, type ServiceApi } from '../service-api/call-api.ts';

export interface RetryOptions {
  readonly config?: string;
  readonly step?: string;
  readonly destination?: string;
}

const Count = z.number();
const RollPlan = z.object({
  id: z.string(),
  drivePresent: z.boolean(),
  destinations: z.record(z.string(), z.object({ parcels: Count, files: Count, bytes: Count })),
  sentence: z.string(),
});
type RollPlan = z.output<typeof RollPlan>;
const ManyPlan = z.object({ rolls: z.array(RollPlan), sentence: z.string() });

/** Takes up again what failed of a roll, of a shoot or in one run, whichever the id is of: all of it, or what the filter says. */
export async function retry(id: string, { config, ...filter }: RetryOptions): Promise<ExitCode> {
  const service = await reachService((await findConfiguration(config)).configuration);
  const kind = await kindOf(service, id);
  const path = `/v1/${kind}s/${encodeURIComponent(id)}/retry`;
  if (kind === 'run') refuseNoRun(id, Object.keys(filter));
  if (kind === 'roll') return tell(await service.post(path, filter, RollPlan));
  const { sentence, rolls } = await service.post(path, filter, ManyPlan);
  say(sentence, ...(kind === 'run' ? [] : rolls.map((plan) => `  ${plan.id}: ${plan.sentence}`)));
  return codeFor(rolls);
}

/** Asked for before anything is changed, so that the record of changes holds no wrong guess. */
async function kindOf(service: ServiceApi, id: string): Promise<'roll' | 'shoot' | 'run'> {
  for (const kind of ['roll', 'shoot'] as const) {
    try {
      await service.get(`/v1/${kind}s/${encodeURIComponent(id)}`, z.unknown());
      return kind;
    } catch (error) {
      // An id that no roll could have is refused as such.
      const isAnswer =
        error instanceof QuaysideError && /^(?:ROLL_UNKNOWN|SHOOT_UNKNOWN|BAD_REQUEST)$/.test(error.code);
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
