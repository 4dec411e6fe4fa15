/**
 * What a step throws when it knows why it cannot do its work. `sentence` says what, where, why and what to do. `later` is
 * tried again, with pauses and up to a limit; `never` waits until inputs, configuration or version change, or a person asks.
 */
export class StepFailure extends Error {
  override readonly name = 'StepFailure';
  readonly code: string;
  readonly retry: 'never' | 'later';

  constructor(
    { code, sentence, retry }: { readonly code: string; readonly sentence: string; readonly retry: 'never' | 'later' },
    options?: { cause?: unknown },
  ) {
    super(sentence, options);
    this.code = code;
    this.retry = retry;
  }
}
