import { QuaysideError } from '@quayside/shoot';
import { Answer, type Question } from '../parser/parser-messages.ts';
import { forkParser } from './fork-parser.ts';

/** A parser's process died or was killed over a file, and is of no more use. */
interface Lost {
  readonly kind: 'lost';
  readonly why: string;
}

/** How a question to a parser ended. */
export type Outcome = Exclude<Answer, { kind: 'ready' }> | Lost;

/** A process that takes files apart, one at a time. */
export interface Parser {
  /**
   * Asks for the facts of one file; a parser that takes longer than `timeLimitMs` is killed.
   * @throws QuaysideError `FACTS_PARSER_NOT_STARTED`, which is no fault of the file
   */
  ask(question: Question, timeLimitMs: number): Promise<Outcome>;
  isAlive(): boolean;
  /** Ends the process at once, whatever it does. */
  kill(): void;
}

/** What starting may take on a busy machine; it is not counted against the first file. */
const START_LIMIT_MS = 60_000;

/** Starts a parser. */
export function startParser(): Parser {
  const { process: child, lastWords } = forkParser();
  let isAlive = true;
  child.on('exit', () => {
    isAlive = false;
  });
  const kill = (): void => {
    isAlive = false;
    // SIGKILL also ends a process that was stopped. One that hangs in the kernel stays until its drive answers; nobody waits.
    child.kill('SIGKILL');
  };

  const nextAnswer = (timeLimitMs: number): Promise<Answer | Lost> =>
    new Promise((resolve) => {
      const end = (outcome: Answer | Lost): void => {
        clearTimeout(timer);
        child.off('message', take).off('exit', lose);
        if (outcome.kind === 'lost') kill();
        resolve(outcome);
      };
      const take = (message: unknown): void => {
        const answer = Answer.safeParse(message);
        end(answer.success ? answer.data : { kind: 'lost', why: 'its answer made no sense' });
      };
      const lose = (code: number | null, signal: string | null): void =>
        end({ kind: 'lost', why: `it ended with ${signal ?? code}${lastError(lastWords())}` });
      const timer = setTimeout(() => end({ kind: 'lost', why: `it took longer than ${timeLimitMs} ms` }), timeLimitMs);
      child.on('message', take).on('exit', lose);
      if (!child.connected) end({ kind: 'lost', why: `it had ended${lastError(lastWords())}` });
    });

  const ready = nextAnswer(START_LIMIT_MS);
  return {
    isAlive: () => isAlive,
    kill,
    async ask(question, timeLimitMs) {
      const start = await ready;
      if (start.kind === 'lost') throw notStarted(start.why);
      const answer = nextAnswer(timeLimitMs);
      // A failure to send means that it has ended or is about to: the exit tells.
      if (child.connected) child.send(question, () => undefined);
      const outcome = await answer;
      return outcome.kind === 'ready' ? { kind: 'lost', why: 'it started twice' } : outcome;
    },
  };
}

function notStarted(why: string): QuaysideError {
  return new QuaysideError({
    code: 'FACTS_PARSER_NOT_STARTED',
    sentence: `The process that reads the facts of files could not be started: ${why}. Check that there is memory left and that the installation is whole.`,
    retry: 'later',
  });
}

function lastError(words: string): string {
  const line = words.split('\n').findLast((text) => /error/i.test(text));
  return line === undefined ? '' : ` (${line.trim()})`;
}
