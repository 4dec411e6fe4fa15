/** What a code stands for, wherever it comes up: in a finding, a reason for a hold, an event, an error or the log. */
export interface CodeEntry {
  readonly meaning: string;
  readonly remedy: string;
}

export type Codes = Readonly<Record<string, CodeEntry>>;
