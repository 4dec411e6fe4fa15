import { type Failure, failureOf, type FileEntry, type Mount, QuaysideError } from '@quayside/shoot';
import { errorCodeOf } from '../direct-io/file-calls.ts';
import { UnreadableError } from './read-with-patience.ts';
import { sourceGone, throwIfSourceGone } from './source-presence.ts';

/**
 * What an error met while reading a file of a volume means for that file.
 * @throws QuaysideError `SOURCE_GONE` when it is the volume that is away.
 */
export async function sourceFailure(error: unknown, mount: Mount, file: FileEntry): Promise<Failure> {
  if (error instanceof QuaysideError && error.retry === 'source') throw error;
  await throwIfSourceGone(mount);
  if (error instanceof QuaysideError) return failureOf(error);
  const code = errorCodeOf(error);
  switch (code) {
    case 'ENODEV':
    case 'ENXIO':
    case 'ENOTCONN':
    case 'ESTALE':
      throw sourceGone(mount, code);
    case 'ENOENT':
    case 'ENOTDIR':
    case 'ELOOP':
      return sourceChanged(file, mount, 'it is no longer the file that was listed');
    case 'EACCES':
    case 'EPERM':
      return {
        code: 'SOURCE_UNREADABLE',
        sentence: `${file.path} on the volume at ${mount.path} may not be read by this user (${code}), so it has no copy. Give the service read permission and try again.`,
        retry: 'later',
      };
    default:
      return readError(error, mount, file);
  }
}

/** The failure of a file that is not, or no longer, what the listing says. */
export function sourceChanged(file: FileEntry, mount: Mount, what: string): Failure {
  return {
    code: 'SOURCE_CHANGED',
    sentence: `${file.path} on the volume at ${mount.path} changed since it was listed (${what}), so it was not copied. Let the recorder finish; the volume is then listed again.`,
    retry: 'later',
  };
}

function readError(error: unknown, mount: Mount, file: FileEntry): Failure {
  const where = error instanceof UnreadableError ? `at byte ${error.position}` : 'somewhere';
  const cause = error instanceof UnreadableError ? error.cause : error;
  const why = errorCodeOf(cause) || String(cause);
  return {
    code: 'SOURCE_READ_ERROR',
    sentence: `${file.path} on the volume at ${mount.path} cannot be read ${where} (${why}), also after several tries. Do not record over this drive; try another reader or cable.`,
    retry: 'later',
  };
}
