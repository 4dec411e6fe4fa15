import { EXIT, type ExitCode } from '../exit-codes.ts';
import { say } from '../screen/say.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

interface Options {
  readonly config?: string;
}

/** Moves a roll that is not sealed yet to another shoot. */
export async function moveRoll(roll: string, shoot: string, options: Options): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const moved = await service.post('/v1/rolls/{id}/move', { path: { id: roll }, body: { shootId: shoot } });
  say(
    moved.movingTo === null
      ? `Roll ${roll} lies in shoot ${moved.shootId}.`
      : `Roll ${roll} is on its way to shoot ${moved.movingTo}.`,
  );
  return EXIT.ok;
}
