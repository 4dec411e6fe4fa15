/** What can be wrong, one stable code each. */
export type TimecodeFaultCode =
  | 'LABEL_MALFORMED'
  | 'LABEL_OUT_OF_RANGE'
  | 'LABEL_DROPPED'
  | 'LABEL_MARK_CONTRADICTS_RATE'
  | 'RATE_MALFORMED'
  | 'RATE_UNKNOWN'
  | 'RATE_HAS_NO_DROP_FRAME'
  | 'NUMBER_NOT_WHOLE'
  | 'NUMBER_TOO_LARGE'
  | 'NUMBER_OUT_OF_RANGE'
  | 'DIVISION_BY_ZERO';

/** What was wrong with something that came from outside. `sentence` says what, why and what to do. */
export interface TimecodeFault {
  readonly code: TimecodeFaultCode;
  readonly sentence: string;
}

/**
 * Thrown where an argument breaks a function's stated demand. It carries the three fields of a `Failure`, so whoever
 * reports failures can show it as it is; trying again never helps.
 */
export class TimecodeError extends Error {
  override readonly name = 'TimecodeError';
  readonly code: TimecodeFaultCode;
  readonly sentence: string;
  readonly retry = 'never';

  constructor(fault: TimecodeFault) {
    super(fault.sentence);
    this.code = fault.code;
    this.sentence = fault.sentence;
  }
}

/** Foreign text fit to be quoted in a sentence: control characters escaped, cut at 40 characters. */
export function quoted(text: string): string {
  return JSON.stringify(text.length > 40 ? `${text.slice(0, 40)}…` : text);
}
