import type { Failure, Remedy } from '@quayside/shoot';
import { failureOf, QuaysideError } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { errorCodeOf } from '../direct-io/file-calls.ts';

interface Meaning {
  readonly code: string;
  readonly retry: Remedy;
  readonly whatAndRemedy: string;
}

const FULL: Meaning = {
  code: 'DESTINATION_FULL',
  retry: 'destination',
  whatAndRemedy: 'is full. Make room there or use another destination; what was copied so far stays.',
};
const READ_ONLY: Meaning = {
  code: 'DESTINATION_READ_ONLY',
  retry: 'destination',
  whatAndRemedy: 'is read-only. Check its file system and its write-protect switch, then mount it for writing.',
};
const UNWRITABLE: Meaning = {
  code: 'DESTINATION_UNWRITABLE',
  retry: 'destination',
  whatAndRemedy: 'may not be written by this user. Give the service write permission on that folder.',
};
const BROKEN: Meaning = {
  code: 'DESTINATION_IO_ERROR',
  retry: 'destination',
  whatAndRemedy:
    'failed while it was written to or read. Check its cable, its power and its health before you trust it again.',
};
const GONE: Meaning = {
  code: 'DESTINATION_GONE',
  retry: 'destination',
  whatAndRemedy: 'went away while it was written to. Connect it; the work goes on by itself.',
};
const NAME_REFUSED: Meaning = {
  code: 'NAME_REFUSED',
  retry: 'never',
  whatAndRemedy: 'does not take a name or path of that length or kind. Use a destination with another file system.',
};
const FAILED: Meaning = {
  code: 'DESTINATION_WRITE_FAILED',
  retry: 'later',
  whatAndRemedy: "failed in an unforeseen way. See the service's log and try again.",
};

const MEANINGS: Readonly<Record<string, Meaning>> = {
  ENOSPC: FULL,
  EDQUOT: FULL,
  EROFS: READ_ONLY,
  EACCES: UNWRITABLE,
  EPERM: UNWRITABLE,
  EIO: BROKEN,
  ENOENT: GONE,
  ENOTDIR: GONE,
  ENXIO: BROKEN,
  ENODEV: BROKEN,
  ENOTCONN: BROKEN,
  ESTALE: BROKEN,
  ENAMETOOLONG: NAME_REFUSED,
  EILSEQ: NAME_REFUSED,
};

/** What an error met at a destination means for the operator. `what` names the file that was being worked on. */
export function destinationFailure(error: unknown, destination: Destination, what: string): Failure {
  if (error instanceof QuaysideError) return failureOf(error);
  const systemCode = errorCodeOf(error);
  const { code, retry, whatAndRemedy } = MEANINGS[systemCode] ?? FAILED;
  const why = systemCode || (error instanceof Error ? error.message : String(error));
  return {
    code,
    retry,
    sentence: `${what} was not stored: destination ${destination.name} at ${destination.root} (${why}) ${whatAndRemedy}`,
  };
}

/** True when the failure is about the destination as a whole, so that further files would meet the same. */
export function stopsDestination(failure: Failure): boolean {
  return failure.retry === 'destination' && failure.code !== UNWRITABLE.code;
}
