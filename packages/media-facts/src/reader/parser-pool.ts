import { type Parser, startParser } from './start-parser.ts';

/** Parsers in turn: at most so many at once, each kept for a while and for a number of files. */
export interface ParserPool {
  /** Has a parser do one piece of work, a newly started one when `fresh`. Waits until one is free. */
  withParser<Value>(fresh: boolean, work: (parser: Parser) => Promise<Value>): Promise<Value>;
  isClosed(): boolean;
  close(): Promise<void>;
}

/** The library keeps some memory of each file; a new process is cheaper than knowing how much. */
const FILES_PER_PARSER = 100;

interface Kept {
  readonly parser: Parser;
  filesLeft: number;
  idleTimer: NodeJS.Timeout | null;
}

/** Starts parsers when they are needed and ends them when they have been idle for `idleMs`. */
export function createParserPool({ parallel, idleMs }: { parallel: number; idleMs: number }): ParserPool {
  const idle: Kept[] = [];
  const busy = new Set<Kept>();
  const waiting: (() => void)[] = [];
  let isClosed = false;

  const takeIdle = (): Kept | null => {
    for (let kept = idle.pop(); kept !== undefined; kept = idle.pop()) {
      if (kept.idleTimer !== null) clearTimeout(kept.idleTimer);
      if (kept.parser.isAlive()) return kept;
    }
    return null;
  };
  const giveBack = (kept: Kept): void => {
    busy.delete(kept);
    kept.filesLeft -= 1;
    if (isClosed || kept.filesLeft <= 0) kept.parser.kill();
    if (kept.parser.isAlive()) {
      kept.idleTimer = setTimeout(() => {
        idle.splice(idle.indexOf(kept), 1);
        kept.parser.kill();
      }, idleMs);
      kept.idleTimer.unref();
      idle.push(kept);
    }
    waiting.shift()?.();
  };

  return {
    async withParser(fresh, work) {
      while (busy.size >= parallel) await new Promise<void>((resolve) => waiting.push(resolve));
      const reused = fresh ? null : takeIdle();
      const kept: Kept = reused ?? { parser: startParser(), filesLeft: FILES_PER_PARSER, idleTimer: null };
      busy.add(kept);
      try {
        return await work(kept.parser);
      } finally {
        giveBack(kept);
      }
    },
    isClosed: () => isClosed,
    async close() {
      isClosed = true;
      for (const { parser, idleTimer } of [...idle.splice(0), ...busy]) {
        if (idleTimer !== null) clearTimeout(idleTimer);
        parser.kill();
      }
    },
  };
}
