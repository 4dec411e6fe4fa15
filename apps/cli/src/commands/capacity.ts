import type { AnswerOf } from '@quayside/api-client';
import { printBytes } from '@quayside/proxy-planning';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { durationText } from '../screen/quantities.ts';
import { say, sayJson } from '../screen/say.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

type Capacity = AnswerOf<'get', '/v1/capacity'>;

interface Options {
  readonly config?: string;
  readonly json?: boolean;
  readonly recorders?: string;
  readonly format: string;
  readonly hours: string;
  readonly drive?: number;
}

/** Says what a shoot takes, whether it fits on drives and destinations, and how long it takes to bring it in. Fails when it does not fit. */
export async function showCapacity(options: Options): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const { recorders, format, hours, drive } = options;
  const query = {
    format,
    // What is no number is refused by the service.
    hours: Number(hours),
    ...(recorders === undefined ? {} : { recorders }),
    ...(drive === undefined ? {} : { drive }),
  };
  const capacity = await service.get('/v1/capacity', { query });
  if (options.json === true) sayJson(capacity);
  else say(...capacityLines(capacity));
  return capacity.fits === false ? EXIT.failed : EXIT.ok;
}

function capacityLines({ recorders, destinations, ingestSeconds, fits, cautions }: Capacity): readonly string[] {
  return [
    ...columns([
      ['RECORDER', 'NEEDS', 'FREE', 'RECORD TIME LEFT', 'ENOUGH'],
      ...recorders.map(({ name, bytes, driveFreeBytes, secondsLeft, isEnough }) => [
        name,
        printBytes(bytes),
        ...roomCells(driveFreeBytes, secondsLeft, isEnough),
      ]),
    ]),
    '',
    ...columns([
      ['DESTINATION', 'NEEDS', 'FREE', 'FULL AFTER', 'ENOUGH'],
      ...destinations.map(({ name, bytes, freeBytes, secondsLeft, isEnough }) => [
        name,
        printBytes(bytes),
        ...roomCells(freeBytes, secondsLeft, isEnough),
      ]),
    ]),
    '',
    `To take it in and prove it: about ${durationText(ingestSeconds.expected)} (${durationText(ingestSeconds.low)} to ${durationText(ingestSeconds.high)}, ${ingestSeconds.basis}).`,
    ...(recorders.some(({ isListed }) => !isListed)
      ? ['That size is not in the publisher’s table: a tenth more is possible.']
      : []),
    ...cautions,
    fits === null ? 'Whether it fits is not known.' : fits ? 'It fits.' : 'It does not fit.',
  ];
}

function roomCells(free: number | null, seconds: number | null, isEnough: boolean | null): readonly string[] {
  return [
    free === null ? 'not known' : printBytes(free),
    // Never more than there is.
    seconds === null ? '' : durationText(Math.floor(seconds / 60) * 60),
    isEnough === null ? '?' : isEnough ? 'yes' : 'NO',
  ];
}
