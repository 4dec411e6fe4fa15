import { printable } from '../screen/printable.ts';

/** A log line of one of the processes as a person reads it: when, who, what. A line that is not one of ours stays as it is. */
export function logText(line: string): string {
  const { at, from, sentence } = parse(line);
  if (typeof sentence !== 'string') return printable(line);
  const time = typeof at === 'string' ? at.slice(11, 19) : '--:--:--';
  return `${time}  ${(typeof from === 'string' ? from : 'service').padEnd(9)}  ${printable(sentence)}`;
}

interface Entry {
  readonly at?: unknown;
  readonly from?: unknown;
  readonly sentence?: unknown;
}

function parse(line: string): Entry {
  try {
    const value: unknown = JSON.parse(line);
    return typeof value === 'object' && value !== null ? value : {};
  } catch {
    return {};
  }
}
