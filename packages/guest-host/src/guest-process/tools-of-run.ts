import {
  fullNameOf,
  type Copies,
  type ReportedFinding,
  type RunLog,
  type Step,
  type StepProgress,
} from '@quayside/step-sdk';
import type { MessageFromGuest } from '../channel/message-from-guest.ts';
import type { RunMessage } from '../channel/message-to-guest.ts';

const PROGRESS_EVERY_MS = 200;
const LONGEST_LINE = 2000;

interface Surroundings {
  readonly signal: AbortSignal;
  readonly say: (message: MessageFromGuest) => void;
}

/** All that a run is given but its config. */
export function toolsOfRun(step: Step, message: RunMessage, { signal, say }: Surroundings): object {
  const { run, subject, outputs, scratchFolder, outputFolder, secrets } = message;
  return {
    subject,
    outputs: outputsByName(step, outputs),
    copies: copiesOf(message),
    scratchFolder,
    outputFolder,
    secrets,
    signal,
    log: logOf(run, say),
    progress: thinnedProgress(run, say),
    report: { finding: (finding: ReportedFinding) => say({ type: 'finding', run, finding: findingOf(finding) }) },
  };
}

/** A step object's output stands under its own name; that of one which was named in full, under that. */
function outputsByName(step: Step, outputs: RunMessage['outputs']): Readonly<Record<string, unknown>> {
  const named = (step.after ?? []).map((before) =>
    typeof before === 'string' ? [before, outputs[before]] : [before.name, outputs[fullNameOf(before) ?? before.name]],
  );
  return Object.fromEntries(named.filter(([, output]) => output !== undefined));
}

function copiesOf({ clipPaths, rollFolders }: RunMessage): Copies {
  return {
    of: ({ id }) => pathIn(clipPaths, id, 'verified copy of clip'),
    folderOf: ({ id }) => pathIn(rollFolders, id, 'folder of roll'),
  };
}

function pathIn(paths: Readonly<Record<string, string>>, id: string, what: string): string {
  const path = Object.hasOwn(paths, id) ? paths[id] : undefined;
  if (path === undefined) throw new Error(`This run has no ${what} "${id}": ask only for those of its subject.`);
  return path;
}

function logOf(run: string, say: Surroundings['say']): RunLog {
  const write =
    (level: 'info' | 'warn' | 'error') =>
    (sentence: string): void =>
      say({ type: 'log', run, level, text: textOf(sentence, LONGEST_LINE) });
  return { info: write('info'), warn: write('warn'), error: write('error') };
}

function thinnedProgress(run: string, say: Surroundings['say']): (progress: StepProgress) => void {
  let saidAt = Number.NEGATIVE_INFINITY;
  return ({ fraction, text, secondsLeft }) => {
    const now = performance.now();
    if (now - saidAt < PROGRESS_EVERY_MS) return;
    saidAt = now;
    say({
      type: 'progress',
      run,
      fraction: Math.min(1, Math.max(0, fraction || 0)),
      text: text === undefined ? null : textOf(text, 200),
      secondsLeft: secondsLeft === undefined || !(secondsLeft >= 0) ? null : Math.min(secondsLeft, 1e9),
    });
  };
}

// Said here, where the plugin's author sees the line; the host looks at it again.
function findingOf({
  code,
  severity,
  subject,
  sentence,
  remedy,
}: ReportedFinding): Extract<MessageFromGuest, { type: 'finding' }>['finding'] {
  if (!/^[A-Z][A-Z0-9_]{0,63}$/.test(code))
    throw new Error(`A finding's code is written in capitals, digits and underscores, not "${code}".`);
  if (!['info', 'warning', 'critical'].includes(severity))
    throw new Error(`A finding's severity is info, warning or critical, not "${severity}".`);
  if (!sentence || !remedy) throw new Error(`Finding ${code} needs a sentence and a remedy.`);
  return {
    code,
    severity,
    subject: subject === undefined ? null : { kind: subject.kind, id: textOf(subject.id, LONGEST_LINE) },
    sentence: textOf(sentence, LONGEST_LINE),
    remedy: textOf(remedy, LONGEST_LINE),
  };
}

// Types are gone at run time: whoever wrote the plugin may hand in anything.
function textOf(value: unknown, longest: number): string {
  return (typeof value === 'string' ? value : (JSON.stringify(value) ?? 'undefined')).slice(0, longest);
}
