import { z } from 'zod';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
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
