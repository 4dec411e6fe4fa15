/** What stands below every list of verdicts. */
export const ADVICE =
  'Never format a drive that is on HOLD. Keep two copies on separate devices. Quayside advises; you decide.';
