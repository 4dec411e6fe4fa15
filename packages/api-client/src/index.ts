export type { ClientSettings } from './calls/send-request.ts';
export type { AnsweringPath, AnswerOf, Given, PagedPath, PathOf, ProblemKind } from './calls/typed-calls.ts';
export { type ApiClient, createClient } from './create-client.ts';
export { followEvents } from './events/follow-events.ts';
export { lastEvents } from './events/last-events.ts';
export { readEvents, type ServiceEvent } from './events/read-events.ts';
export { checkAnswer } from './failures/check-answer.ts';
export { NoAnswerError, notRunning } from './failures/no-answer-error.ts';
export { type Problem, ProblemError } from './failures/problem-error.ts';
