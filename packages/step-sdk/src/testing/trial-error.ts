/** What was tried breaks the contract: a wrong configuration or output, a finding that no host would take, a changed copy. */
export class TrialError extends Error {
  override readonly name = 'TrialError';
}
