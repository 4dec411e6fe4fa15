import { styleText } from 'node:util';

/** Whether colours are wanted on standard output: a terminal, and neither NO_COLOR nor the like says otherwise. */
export function wantsColour(): boolean {
  return styleText('bold', 'x', { stream: process.stdout }) !== 'x';
}

/** Whether a person watches: only then is a line drawn over another. */
export function isTerminal(): boolean {
  return process.stdout.isTTY;
}
