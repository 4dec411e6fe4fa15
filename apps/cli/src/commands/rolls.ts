import { z } from 'zod';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { countText, sizeText } from '../screen/quantities.ts';
import { say } from '../screen/say.ts';
import { reachService } from '../service-api/call-api.ts';

interface Options {
  readonly config?: string;
}

const Moved = z.object({ shootId: z.string(), movingTo: z.string().nullable() });

/** Moves a roll that is not sealed yet to another shoot. */
export async function moveRoll(roll: string, shoot: string, options: Options): Promise<ExitCode> {
  const { configuration } = await findConfiguration(options.config);
  const service = await reachService(configuration);
  const moved = await service.post(`/v1/rolls/${encodeURIComponent(roll)}/move`, { shootId: shoot }, Moved);
  say(
    moved.movingTo === null
      ? `Roll ${roll} lies in shoot ${moved.shootId}.`
      : `Roll ${roll} is on its way to shoot ${moved.movingTo}.`,
  );
  return EXIT.ok;
}

const Count = z.number();
const Plan = z.object({
  drivePresent: z.boolean(),
  destinations: z.record(z.string(), z.object({ parcels: Count, files: Count, bytes: Count })),
  sentence: z.string(),
});

/** Takes up again what failed of a roll, everywhere or at one destination. */
export async function retryRoll(roll: string, options: Options & { readonly destination?: string }): Promise<ExitCode> {
  const { configuration } = await findConfiguration(options.config);
  const service = await reachService(configuration);
  const body = options.destination === undefined ? {} : { destination: options.destination };
  const plan = await service.post(`/v1/rolls/${encodeURIComponent(roll)}/retry`, body, Plan);
  const names = Object.entries(plan.destinations);
  say(
    plan.sentence,
    ...names.map(
      ([name, { files, bytes }]) =>
        `  ${name}: ${files === 0 ? 'the manifest only' : `${countText(files, 'file')}, ${sizeText(bytes)}`}`,
    ),
  );
  return names.length > 0 && !plan.drivePresent ? EXIT.waiting : EXIT.ok;
}
