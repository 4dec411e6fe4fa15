/** Prints lines to standard output. Text from a drive must have gone through `printable` before. */
export function say(...lines: readonly string[]): void {
  if (lines.length > 0) process.stdout.write(`${lines.join('\n')}\n`);
}

/** Prints a value as JSON to standard output, indented for a person and on one line for a program. */
export function sayJson(value: unknown): void {
  say(JSON.stringify(value, null, process.stdout.isTTY ? 2 : 0));
}

/** Prints a line beside the result, to standard error. */
export function remark(line: string): void {
  process.stderr.write(`${line}\n`);
}
