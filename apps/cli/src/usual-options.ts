import { InvalidArgumentError } from 'commander';

/** Which configuration; nearly every command asks. */
export const CONFIG = [
  '-c, --config <file>',
  'the configuration; else $QUAYSIDE_CONFIG, ./quayside.yaml, or the one of the user',
] as const;

/** For programs. */
export const JSON_OUT = ['--json', 'print JSON for programs'] as const;

/** Reads an option that counts. @throws InvalidArgumentError for anything but a whole number above 0 */
export function wholeNumber(text: string): number {
  const value = Number(text);
  if (Number.isSafeInteger(value) && value > 0) return value;
  throw new InvalidArgumentError('It must be a whole number above 0.');
}
