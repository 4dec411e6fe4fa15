export { factsOfFile } from './facts-of-file.ts';
export type { TrialClip } from './lay-copies.ts';
export { layTrial } from './lay-trial.ts';
export type { LaidTrial } from './lay-trial.ts';
export { TrialError } from './trial-error.ts';
export { tryStep } from './try-step.ts';
export type { LogLine, Trial, TrialOutcome } from './try-step.ts';
