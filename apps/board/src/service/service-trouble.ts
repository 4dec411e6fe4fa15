/** What kept the service from answering: it is `away`, it wants a sign-in, it `refused` with a sentence, or its answer is `odd`. */
export class ServiceTrouble extends Error {
  readonly kind: 'away' | 'signed-out' | 'refused' | 'odd';

  constructor(kind: ServiceTrouble['kind'], sentence: string, options?: ErrorOptions) {
    super(sentence, options);
    this.kind = kind;
    this.name = 'ServiceTrouble';
  }
}

/** One sentence for whatever was thrown. */
export function sentenceOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
