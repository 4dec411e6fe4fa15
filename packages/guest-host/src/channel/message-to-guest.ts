import type { StepSubject } from '@quayside/shoot';

/** What a guest's process is told, a line of JSON each. */
export type MessageToGuest = { readonly type: 'describe'; readonly config: unknown } | RunMessage | AbortMessage;

/** Stop the run that is under way. */
export interface AbortMessage {
  readonly type: 'abort';
  readonly why: string;
}

export interface RunMessage {
  readonly type: 'run';
  /** Names the run in every answer. */
  readonly run: string;
  readonly step: string;
  readonly subject: StepSubject;
  readonly config: unknown;
  readonly outputs: Readonly<Record<string, unknown>>;
  /** Where the verified copies lie, by clip and by roll. */
  readonly clipPaths: Readonly<Record<string, string>>;
  readonly rollFolders: Readonly<Record<string, string>>;
  readonly scratchFolder: string;
  readonly outputFolder: string;
  readonly secrets: Readonly<Record<string, string>>;
}
