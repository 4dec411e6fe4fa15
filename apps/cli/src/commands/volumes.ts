import type { AnswerOf } from '@quayside/api-client';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { countText, sizeText } from '../screen/quantities.ts';
import { say, sayJson } from '../screen/say.ts';
import { reachService, reachServiceOf } from '../service-api/reach-service.ts';

type Volume = AnswerOf<'get', '/v1/volumes'>['volumes'][number];

/** Lists every volume that the service has seen, those that are connected first. */
export async function listVolumes(options: { readonly config?: string; readonly json?: boolean }): Promise<ExitCode> {
  const { configuration } = await findConfiguration(options.config);
  const service = await reachService(configuration);
  const { volumes } = await service.get('/v1/volumes');
  if (options.json === true) sayJson(volumes);
  else if (volumes.length === 0)
    say(
      'No volume has been seen yet. Drives are looked for below:',
      ...configuration.watch.roots.map((root) => `  ${printable(root)}`),
    );
  else say(...columns([['VOLUME', 'LABEL', 'RECORDER', 'STATE', 'CONTENT', 'WHERE'], ...volumes.map(rowOf)]));
  return EXIT.ok;
}

function rowOf(volume: Volume): readonly string[] {
  const { assigned, recorder } = volume;
  return [
    volume.key,
    printable(volume.label ?? '-'),
    printable(recorder ?? (assigned === null ? 'unclaimed' : `${assigned.recorder} (assigned)`)),
    volume.standing,
    `${countText(volume.fileCount, 'file')}, ${sizeText(volume.sizeInBytes)}${volume.litterCount === 0 ? '' : `, ${volume.litterCount} of litter`}`,
    volume.why === null ? printable(volume.mountPath ?? 'not connected') : printable(volume.why),
  ];
}

/** Says which recorder a volume belongs to, and if wanted which shoot its footage goes to. */
export async function assignVolume(
  key: string,
  recorder: string,
  options: { readonly config?: string; readonly shoot?: string },
): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const body = { recorder, ...(options.shoot === undefined ? {} : { shoot: options.shoot }) };
  const volume = await service.post('/v1/volumes/{key}/assign', { path: { key }, body });
  const name = printable(volume.label ?? volume.key);
  say(`${name} belongs to ${recorder}${options.shoot === undefined ? '' : `, for shoot ${options.shoot}`}.`);
  if (volume.mountPath !== null) return EXIT.ok;
  say('It is not connected; its footage is copied as soon as it is.');
  return EXIT.waiting;
}
