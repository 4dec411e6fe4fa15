import type { Readable } from 'node:stream';

const LONGEST_LINE = 2000;

export interface OutputReader {
  readonly onLine: (line: string) => void;
  readonly onBytes: (count: number) => void;
}

/** Drains what a process prints, so that it never waits for us, and cuts it into lines; of a longer one the rest is passed over. */
export function drainOutput(stream: Readable, { onLine, onBytes }: OutputReader): void {
  let rest = '';
  let isPassingOver = false;
  stream.on('data', (chunk: Buffer) => {
    onBytes(chunk.length);
    const lines = (rest + chunk.toString('utf8')).split('\n');
    rest = lines.pop() ?? '';
    for (const line of lines) {
      if (!isPassingOver && line !== '') onLine(line);
      isPassingOver = false;
    }
    if (rest.length <= LONGEST_LINE) return;
    if (!isPassingOver) onLine(rest);
    isPassingOver = true;
    rest = '';
  });
  stream.on('end', () => {
    if (rest !== '' && !isPassingOver) onLine(rest);
  });
}
