/** The separators that one spreadsheet or another splits a line at, in quotes or not. */
const SEPARATORS = ',;|\t\r\n';
/** What begins a formula, full-width forms included, and the guard itself. */
const FORMULA = "=+-@\uFF1D\uFF0B\uFF0D\uFF20'";

/**
 * Text that no spreadsheet takes for a formula: wherever a cell could begin (at the start and after any separator, whatever
 * blanks and quotes stand there), an apostrophe stands before what would begin a formula.
 */
export function guardFormula(text: string): string {
  return walk(text, ({ isOpening, character }) =>
    isOpening && FORMULA.includes(character) ? `'${character}` : character,
  );
}

/** The text as it was before `guardFormula`. */
export function unguardFormula(text: string): string {
  return walk(text, ({ isOpening, character, next }) =>
    isOpening && character === "'" && next !== '' && FORMULA.includes(next) ? '' : character,
  );
}

interface Step {
  /** True where a cell could begin. */
  readonly isOpening: boolean;
  readonly character: string;
  readonly next: string;
}

/** One pass, so that a text of nothing but blanks takes no longer than another. */
function walk(text: string, write: (step: Step) => string): string {
  let isOpening = true;
  let written = '';
  for (let at = 0; at < text.length; at += 1) {
    const character = text.charAt(at);
    written += write({ isOpening, character, next: text.charAt(at + 1) });
    isOpening = SEPARATORS.includes(character) || (isOpening && /[\s"]/.test(character));
  }
  return written;
}
