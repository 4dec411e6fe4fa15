import { QuaysideError } from '@quayside/shoot';

/** Refuses what a caller wants to record. `why` is a clause such as `"a.mov" is there twice`. */
export function throwContent(why: string): never {
  throw new QuaysideError({
    code: 'MANIFEST_CONTENT',
    sentence: `The manifest was not written because ${why}. This is a fault of the program that asked for it: report it.`,
    retry: 'never',
  });
}

/** Wraps an error of the file system, so that it says what was being done, where, and what to do. */
export function ioFailure(code: 'MANIFEST_READ' | 'MANIFEST_WRITE', place: string, cause: unknown): QuaysideError {
  const away = AWAY_OR_FULL.has(errorCode(cause));
  const doing = code === 'MANIFEST_READ' ? 'read' : 'written';
  const why = cause instanceof Error ? cause.message : String(cause);
  return new QuaysideError(
    {
      code,
      sentence: `The hash history at "${place}" could not be ${doing}: ${why}. Check that the destination is connected, writable and has space.`,
      retry: away ? 'destination' : 'later',
    },
    { cause },
  );
}

/** The code of a system error such as `ENOENT`, or an empty string. */
export function errorCode(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}

const AWAY_OR_FULL = new Set(['ENOENT', 'ENODEV', 'ENXIO', 'EIO', 'ENOSPC', 'EDQUOT', 'EROFS', 'ENOTCONN', 'ESTALE']);
