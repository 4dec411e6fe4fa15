import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { RunOutcome } from './run-once.ts';
import type { TortureStudio } from './studio/torture-studio.ts';

/** Writes down what is needed to look into a failed run: its story, what the API says, and the service's log. Gives the folder. */
export async function keepEvidence(folder: string, outcome: RunOutcome, studio: TortureStudio): Promise<string> {
  const place = join(folder, `seed-${outcome.plan.seed}-run-${outcome.plan.index}`);
  await mkdir(place, { recursive: true });
  const { service } = studio;
  const ask = (path: string): Promise<unknown> => service.get(path).catch((error: unknown) => String(error));
  const rolls = await service.rolls().catch(() => []);
  const whole = await Promise.all(rolls.slice(-8).map(({ id }) => ask(`/v1/rolls/${id}`)));
  const state = {
    plan: outcome.plan,
    ended: outcome.ended,
    wrongVerdicts: outcome.wrongVerdicts,
    lostFiles: outcome.lostFiles,
    rolls: whole,
    volumes: await ask('/v1/volumes'),
    findings: await ask('/v1/findings'),
    events: await ask('/v1/events/list?limit=1000'),
  };
  await writeFile(join(place, 'story.txt'), `${outcome.story.join('\n')}\n`);
  await writeFile(join(place, 'state.json'), `${JSON.stringify(state, null, 1)}\n`);
  await writeFile(join(place, 'service.log'), `${service.log.slice(-3000).join('\n')}\n`);
  return place;
}
