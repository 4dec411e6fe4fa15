import { styleText } from 'node:util';
import type { RollAnswer } from '@quayside/admin-api';
import { ADVICE } from '../screen/advice.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { countText, durationText, momentText, sizeText } from '../screen/quantities.ts';
import type { Status } from './gather-status.ts';
import { type DriveVerdict, judgeDrives } from './judge-drives.ts';

export interface Look {
  readonly colour: boolean;
  /** Draws bars; plain lines carry the same numbers. */
  readonly bars: boolean;
  /** Of the configuration, for the command that assigns a drive. */
  readonly recorders: readonly string[];
}

/** The state of everything as lines: first and foremost which drives may be recorded over. */
export function statusLines(status: Status, look: Look): string[] {
  const verdicts = judgeDrives(status);
  return [
    ...serviceLines(status),
    ...section('May I record over it?', verdictLines(verdicts, look)),
    ...section('Work', workLines(status.rolls, look)),
    ...section('Destinations', destinationLines(status.rolls)),
    ...section('Unclaimed drives: nothing of them is copied', unclaimedLines(status, look.recorders)),
    ADVICE,
  ];
}

/** One line per drive: the word, whose it is, and why. Cautions that come with a CLEAR stand below, each once. */
function verdictLines(verdicts: readonly DriveVerdict[], look: Pick<Look, 'colour'>): string[] {
  if (verdicts.length === 0) return ['  No drive of a known recorder is connected.'];
  const resting = verdicts.filter(({ rests }) => rests).length;
  const rows = verdicts
    .filter(({ rests }) => !rests)
    .map((drive) => [
      coloured(drive.word, drive.word === 'CLEAR' ? ['bold', 'green'] : ['bold', 'red'], look),
      printable(drive.recorder),
      printable(drive.label),
      sentenceFor(drive),
    ]);
  return [...columns(rows, '  '), ...restingLines(resting, look), ...cautionLines(verdicts)];
}

/** One line for all of them, or the drives that matter now would be lost among those of last year. */
function restingLines(count: number, look: Pick<Look, 'colour'>): string[] {
  if (count === 0) return [];
  const drives = count === 1 ? '1 drive that is not connected rests' : `${count} drives that are not connected rest`;
  const word = coloured('HOLD', ['bold', 'red'], look);
  return [
    `  ${word}   ${drives}: all that is known of ${count === 1 ? 'it' : 'them'} is proven. Connect ${count === 1 ? 'it' : 'one'} to have the verdict (quayside status --json).`,
  ];
}

function sentenceFor(drive: DriveVerdict): string {
  const judged = drive.judgedAt === null ? '' : ` (judged ${momentText(drive.judgedAt)})`;
  if (drive.word === 'CLEAR') return `${drive.summary}${judged}`;
  const [first = '', ...more] = drive.reasons;
  return [
    ...(drive.connected ? [] : ['Not connected.']),
    printable(first),
    ...(drive.secondsLeft === null || drive.secondsLeft === 0
      ? []
      : [`Time left: ${durationText(drive.secondsLeft)}.`]),
    ...(more.length === 0 ? [] : [`(${countText(more.length, 'more reason')}: quayside status --json)`]),
  ].join(' ');
}

function cautionLines(verdicts: readonly DriveVerdict[]): string[] {
  const all = verdicts
    .filter(({ word }) => word === 'CLEAR')
    .flatMap(({ recorder, reasons }) => reasons.map((caution) => ({ recorder, caution })));
  return [...Map.groupBy(all, ({ caution }) => caution)].map(
    ([caution, drives]) =>
      `  Caution about ${[...new Set(drives.map(({ recorder }) => printable(recorder)))].join(', ')}: ${printable(caution)}`,
  );
}

function serviceLines({ health }: Status): string[] {
  const asleep = (['watcher', 'worker'] as const).filter((name) => !health[name].alive);
  return [
    ...(health.redis === 'away' ? ['Attention: Redis does not answer. See the log of the service.'] : []),
    ...(health.redis === 'away' ? [] : asleep.map((name) => `Attention: the ${name} gives no sign of life.`)),
    ...health.cautions.map((caution) => `Caution: ${printable(caution)}`),
  ];
}

const MOVING = new Set(['copying', 'verifying', 'sealing', 'judging', 'waiting']);

function workLines(rolls: readonly RollAnswer[], look: Look): string[] {
  const moving = rolls.filter((roll) => roll.drivePresent && MOVING.has(roll.activity));
  return columns(
    moving.map(({ recorder, activity, progress, sizeInBytes }) => [
      printable(recorder),
      activity,
      ...(look.bars ? [bar(progress.fraction)] : []),
      `${Math.floor(progress.fraction * 100)} %`.padStart(5),
      `of ${sizeText(sizeInBytes)}`,
      [
        progress.bytesPerSecond > 0 ? `${sizeText(progress.bytesPerSecond)}/s` : '',
        progress.secondsLeft !== null && progress.secondsLeft > 0 ? `${durationText(progress.secondsLeft)} left` : '',
      ]
        .filter((part) => part !== '')
        .join(', '),
    ]),
    '  ',
  );
}

function bar(fraction: number): string {
  const full = Math.floor(fraction * 20);
  return `[${'#'.repeat(full)}${'.'.repeat(20 - full)}]`;
}

function destinationLines(rolls: readonly RollAnswer[]): string[] {
  const names = [...new Set(rolls.flatMap((roll) => Object.keys(roll.destinations)))].toSorted();
  return columns(
    names.map((name) => {
      const here = rolls.flatMap((roll) => roll.destinations[name] ?? []);
      const sealed = here.filter(({ sealedGeneration }) => sealedGeneration !== null).length;
      const bytes = here.reduce((sum, { verifiedBytes }) => sum + verifiedBytes, 0);
      const failure = here.find((destination) => destination.failure !== null)?.failure;
      return [
        printable(name),
        `${sealed} of ${countText(here.length, 'roll')} sealed, ${sizeText(bytes)} proven${failure == null ? '' : `. ${printable(failure.sentence)}`}`,
      ];
    }),
    '  ',
  );
}

function unclaimedLines({ connected }: Status, recorders: readonly string[]): string[] {
  return connected
    .filter(({ recorder }) => recorder === null)
    .flatMap((volume) => [
      `  ${printable(volume.label ?? volume.key)}: ${printable(volume.fileSystem)}, ${countText(volume.fileCount, 'file')}, ${sizeText(volume.sizeInBytes)}, at ${printable(volume.mountPath ?? '')}`,
      `    quayside assign ${volume.key} ${recorders.length === 0 ? 'RECORDER' : recorders.join('|')}`,
    ]);
}

function section(title: string, lines: readonly string[]): string[] {
  return lines.length === 0 ? [] : [title, ...lines];
}

function coloured(text: string, style: Parameters<typeof styleText>[0], { colour }: Pick<Look, 'colour'>): string {
  return colour ? styleText(style, text, { validateStream: false }) : text;
}
