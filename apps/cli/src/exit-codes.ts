/** What the exit code of a command says. Codes are only ever added; take an unknown one as a failure. */
export const EXIT = {
  ok: 0,
  /** It failed: something is damaged or missing, or the service did not do it. */
  failed: 1,
  /** The command line or the configuration is wrong. */
  usage: 2,
  /** Done in part: what could be checked is good, but not everything could be. */
  partial: 3,
  /** Accepted, and waiting for a drive to be connected. */
  waiting: 4,
  interrupted: 130,
} as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];
