/** `clear` alone means yes. `away`: it left proven, and what happened to it since is unknown. */
export type CardVerdict = 'clear' | 'hold' | 'unknown' | 'away';

/** What the page says about one drive. Each part is complete in words; shape and colour only repeat it. */
export interface DriveCard {
  readonly key: string;
  readonly recorder: string;
  readonly label: string;
  readonly verdict: CardVerdict;
  /** The word that is read from across the room. */
  readonly word: 'CLEAR' | 'HOLD' | 'NOT KNOWN' | 'AWAY';
  /** The answer to "may I record over it?". */
  readonly answer: string;
  /** True when nothing goes on until a person does something. */
  readonly needsYou: boolean;
  /** Why, the reason to act on first; for `clear`, the cautions that come with it. */
  readonly reasons: readonly string[];
  /** What is being done, such as "copying", or null. */
  readonly work: string | null;
  /** Share of the work that is done, 0 to 1, or null when none is under way. */
  readonly fraction: number | null;
  readonly timeLeft: string | null;
  /** What was proven, and when the verdict was given. */
  readonly proof: string | null;
  readonly judgedAt: string | null;
  readonly rollId: string | null;
}
