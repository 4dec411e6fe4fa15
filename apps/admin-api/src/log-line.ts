/** Writes one JSON line to standard output; the supervisor and the journal take it from there. */
export function logLine(sentence: string, about: object = {}): void {
  process.stdout.write(`${JSON.stringify({ at: new Date().toISOString(), from: 'admin-api', sentence, ...about })}\n`);
}
