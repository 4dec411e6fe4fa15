import { NoAnswerError, ProblemError } from '@quayside/api-client';

/** Whether the service wants this browser to sign in. */
export function isSignedOut(error: unknown): boolean {
  return error instanceof ProblemError && error.is('token-needed');
}

/** One sentence for whatever was thrown, as a person before the page understands it. */
export function sentenceOf(error: unknown): string {
  if (error instanceof NoAnswerError) return WITHOUT_ANSWER[error.code] ?? error.message;
  return error instanceof Error ? error.message : String(error);
}

const WITHOUT_ANSWER: Readonly<Record<string, string>> = {
  NOT_RUNNING: 'The service does not answer.',
  ANSWER_BROKEN_OFF: 'The service broke off its answer.',
  ANSWER_ODD: 'The service answers in a way that this page does not know. Load the page again.',
};
