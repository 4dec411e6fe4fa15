import { type MediaFacts, QuaysideError } from '@quayside/shoot';
import { damagedFacts } from '../parser/damaged-facts.ts';
import type { Question } from '../parser/parser-messages.ts';
import { createParserPool } from './parser-pool.ts';
import type { Outcome } from './start-parser.ts';

export interface FactsReaderOptions {
  /** How many files are taken apart at once, each in a process of some 65 MB. 1 when not given. */
  readonly parallel?: number;
  /** How long one file may take, in milliseconds, before its parser is killed. 10 s when not given; a slow drive needs more. */
  readonly timeLimitMs?: number;
  /** How long a parser with nothing to do is kept, in milliseconds. 10 s when not given. */
  readonly idleMs?: number;
}

export interface FileQuestion {
  /** The size it was listed with; a file that has another one now is refused. */
  readonly sizeInBytes: number;
  readonly signal?: StopSignal;
  /** Told once, at the end, what the reading cost. */
  readonly onCost?: (cost: ReadingCost) => void;
}

/** The part of an `AbortSignal` that a reading needs; a real one fits. */
export interface StopSignal {
  readonly aborted: boolean;
  throwIfAborted(): void;
}

export interface ReadingCost {
  readonly bytesRead: number;
  readonly cpuMs: number;
}

/** Reads facts in processes that can be thrown away. */
export interface FactsReader {
  /**
   * The facts of one file, from a few megabytes of it however long it is. A file that is no media, is damaged, or kills or
   * hangs its parser twice is a fact too. A name that is not UTF-8 is given as bytes.
   * @throws QuaysideError `NOT_A_FILE`, `FILE_CHANGED`, or `FACTS_NOT_READ` when the system refuses;
   * `FACTS_PARSER_NOT_STARTED`, `FACTS_READER_CLOSED`
   */
  read(path: string | Uint8Array, question: FileQuestion): Promise<MediaFacts>;
  /** Ends all parsers at once; readings under way fail. */
  close(): Promise<void>;
}

const DEFAULT_TIME_LIMIT_MS = 10_000;
const DEFAULT_IDLE_MS = 10_000;
/** A parser may have been spoilt by an earlier file, or stopped by somebody: the file is to blame only when a fresh one fails as well. */
const ATTEMPTS = 2;

/** Starts no process until there is something to read. */
export function createFactsReader(options: FactsReaderOptions = {}): FactsReader {
  const { parallel = 1, timeLimitMs = DEFAULT_TIME_LIMIT_MS, idleMs = DEFAULT_IDLE_MS } = options;
  const pool = createParserPool({ parallel, idleMs });

  const ask = async (question: Question, signal: StopSignal | undefined): Promise<Outcome> => {
    for (let attempt = 1; ; attempt += 1) {
      signal?.throwIfAborted();
      const outcome = await pool.withParser(attempt > 1, (parser) => parser.ask(question, timeLimitMs));
      if (pool.isClosed()) throw closed();
      if (outcome.kind !== 'lost' || attempt === ATTEMPTS) return outcome;
    }
  };

  return {
    async read(path, { sizeInBytes, signal, onCost }) {
      if (pool.isClosed()) throw closed();
      const outcome = await ask({ path: sendable(path), sizeInBytes }, signal);
      if (outcome.kind === 'failed') throw new QuaysideError(outcome.failure);
      if (outcome.kind === 'lost')
        return damagedFacts('unreadable', `Two parsers failed on it; of the second: ${outcome.why}.`);
      onCost?.({ bytesRead: outcome.bytesRead, cpuMs: outcome.cpuMs });
      return outcome.facts;
    },
    close: () => pool.close(),
  };
}

function sendable(path: string | Uint8Array): Question['path'] {
  return typeof path === 'string' ? { text: path } : { bytes: Buffer.from(path).toString('base64') };
}

function closed(): QuaysideError {
  return new QuaysideError({
    code: 'FACTS_READER_CLOSED',
    sentence: 'The reading of facts was ended with the service; the file is read again when it runs.',
    retry: 'later',
  });
}
