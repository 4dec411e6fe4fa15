import type { Readable } from 'node:stream';

export interface LineReader {
  readonly onLine: (line: string) => void;
  /** Called once when a line is longer than the limit; nothing is read after that. */
  readonly onTooLong: () => void;
}

/**
 * Reads lines of at most `maxBytes` from a stream. Memory stays within that whatever is sent: Node's own channel between
 * processes would take a message of any size.
 */
export function readLines(stream: Readable, maxBytes: number, { onLine, onTooLong }: LineReader): void {
  let parts: Buffer[] = [];
  let length = 0;
  const onData = (chunk: Buffer): void => {
    let rest = chunk;
    for (let end = rest.indexOf(NEWLINE); end !== -1; end = rest.indexOf(NEWLINE)) {
      const line = Buffer.concat([...parts, rest.subarray(0, end)]);
      parts = [];
      length = 0;
      rest = rest.subarray(end + 1);
      if (line.length > maxBytes) return giveUp();
      onLine(line.toString('utf8'));
    }
    length += rest.length;
    if (length > maxBytes) return giveUp();
    if (rest.length > 0) parts.push(rest);
  };
  const giveUp = (): void => {
    stream.off('data', onData);
    stream.pause();
    parts = [];
    onTooLong();
  };
  stream.on('data', onData);
}

const NEWLINE = 0x0a;
