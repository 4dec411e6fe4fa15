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

/** The same for the end of `quayside --help`. */
export const EXIT_CODES_TOLD = `
Exit codes:
  0    done; for verify: every file is as recorded
  1    failed; for verify: a file is damaged or missing
  2    the command line or the configuration is wrong
  3    done in part; for verify: files without a record, or a manifest that could not be added
  4    accepted, and waiting for a drive to be connected
  130  ended by Ctrl-C`;
