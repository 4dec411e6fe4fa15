/** Writes one line to the log: a sentence for people, and what programs may want to know beside it. */
export type LogLine = (sentence: string, about?: object) => void;

/**
 * Log lines from one process of the service: JSON with when, who and a sentence, on standard output, from where the
 * supervisor and the journal take them.
 */
export function logLines(from: string): LogLine {
  return (sentence, about = {}) =>
    void process.stdout.write(`${JSON.stringify({ at: new Date().toISOString(), from, sentence, ...about })}\n`);
}
