import type { Failure } from '@quayside/shoot';
import type { GuestTrouble } from '../channel/message-from-guest.ts';

/** Whose failure it is, as it is told: `Step "measure" of plugin "loudness"`. */
export function stepOf({ plugin, step }: { readonly plugin: string; readonly step: string }): string {
  return `Step "${step}" of plugin "${plugin}"`;
}

type Named = Readonly<{ plugin: string; step: string }>;

/** What a step's process said that went wrong, as a failure of the plugin. */
export function failureOfTrouble(run: Named, { kind, code, text, retry }: GuestTrouble): Failure {
  const who = stepOf(run);
  switch (kind) {
    case 'own':
      return { code: `${run.plugin}/${code ?? 'FAILED'}`, sentence: `${who}: ${text}`, retry };
    case 'threw':
      return {
        code: 'PLUGIN_THREW',
        sentence: `${who} failed: ${text} Its author can tell more; footage and verdicts are not touched by it.`,
        retry: 'later',
      };
    case 'denied':
      return {
        code: 'PLUGIN_DENIED',
        sentence: `${who} tried to ${text}, to which it has no right. If it is meant to, let it ask for that and grant it under \`plugins\` in the configuration.`,
        retry: 'never',
      };
    case 'bad-config':
      return {
        code: 'PLUGIN_BAD_CONFIG',
        sentence: `The configuration of ${lower(who)} does not fit its schema: ${text} Correct it under \`plugins\`.`,
        retry: 'never',
      };
    case 'bad-output':
      return {
        code: 'PLUGIN_BAD_OUTPUT',
        sentence: `${who} gave an output that does not fit its schema: ${text} Its author must correct it.`,
        retry: 'never',
      };
    case 'too-large':
      return outputRefused(run, 'a file is larger than all of it may be (`limits.outputMb`).');
    case 'no-step':
      return {
        code: 'PLUGIN_CHANGED',
        sentence: `${who} is no more: ${text} Start the service again.`,
        retry: 'never',
      };
  }
}

const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

/** It took longer than its limit. */
export function timedOut(run: Named, seconds: number): Failure {
  return {
    code: 'PLUGIN_TIMED_OUT',
    sentence: `${stepOf(run)} took longer than its ${seconds} s and was stopped. Raise \`limits.seconds\` of the step if that is not enough.`,
    retry: 'later',
  };
}

export function outOfMemory(run: Named, memoryMb: number): Failure {
  return {
    code: 'PLUGIN_OUT_OF_MEMORY',
    sentence: `${stepOf(run)} used more than its ${memoryMb} MB of memory and was stopped. Raise \`limits.memoryMb\` of the step if that is not enough.`,
    retry: 'later',
  };
}

export function programsOutOfMemory(run: Named, programsMb: number): Failure {
  return {
    code: 'PLUGIN_OUT_OF_MEMORY',
    sentence: `The programs that ${lower(stepOf(run))} started used more than their ${programsMb} MB of memory and were stopped. Raise \`limits.programsMb\` of the step if that is not enough.`,
    retry: 'later',
  };
}

export function breached(run: Named, what: string): Failure {
  return {
    code: 'PLUGIN_BREACH',
    sentence: `${stepOf(run)} ${what} and was stopped. Do not use this plugin before its author has explained that.`,
    retry: 'never',
  };
}

/** Its process ended before it had answered. */
export function endedEarly(run: Named, how: { readonly code: number | null; readonly signal: string | null }): Failure {
  return {
    code: 'PLUGIN_EXITED',
    sentence: `${stepOf(run)} ended its process (${how.signal ?? `exit code ${how.code}`}) before it had answered. Its author must correct it.`,
    retry: 'later',
  };
}

export function outputRefused(run: Named, why: string): Failure {
  return {
    code: 'PLUGIN_OUTPUT_REFUSED',
    sentence: `What ${lower(stepOf(run))} left in its output folder is not filed: ${why} Its author must correct it.`,
    retry: 'never',
  };
}
