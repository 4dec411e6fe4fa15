import { QuaysideError } from '@quayside/shoot';

/**
 * There is no answer to go by: nothing answers (`NOT_RUNNING`), it broke off (`ANSWER_BROKEN_OFF`), something else answers
 * (`NOT_QUAYSIDE`), or what it says is not understood (`ANSWER_ODD`). No verdict is known then.
 */
export class NoAnswerError extends QuaysideError {}

/** Nothing answers in time. */
export function notRunning(address: string, cause?: unknown): NoAnswerError {
  const sentence = `Quayside is not running: nothing answers at ${address}. Start it with "quayside start". Until then, take every drive as not copied.`;
  return new NoAnswerError({ code: 'NOT_RUNNING', sentence, retry: 'later' }, { cause });
}

export function brokenOff(address: string, cause: unknown): NoAnswerError {
  const sentence = `The service at ${address} broke off its answer. Ask again.`;
  return new NoAnswerError({ code: 'ANSWER_BROKEN_OFF', sentence, retry: 'later' }, { cause });
}

export function notQuayside(address: string, status: number): NoAnswerError {
  const sentence = `What answers at ${address} is not Quayside (status ${status}). See api.port in the configuration.`;
  return new NoAnswerError({ code: 'NOT_QUAYSIDE', sentence, retry: status >= 500 ? 'later' : 'never' });
}

export function answerOdd(cause: unknown): NoAnswerError {
  const sentence =
    'The service answers in a way that is not known here, so it may be of another version. Use the one that came with it; until then, take every drive as not copied.';
  return new NoAnswerError({ code: 'ANSWER_ODD', sentence, retry: 'never' }, { cause });
}
