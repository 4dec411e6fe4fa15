import { QuaysideError } from '@quayside/shoot';

/** Why the API cannot listen on its port, with what to do about it. */
export function cannotListen(port: number, cause: unknown): QuaysideError {
  const code = cause instanceof Error && 'code' in cause ? cause.code : '';
  const why =
    code === 'EADDRINUSE'
      ? 'another program uses it. End that program, or set api.port in the configuration to another port'
      : code === 'EACCES'
        ? 'this user may not use it. Set api.port in the configuration to one above 1023'
        : `${cause instanceof Error ? cause.message : String(cause)}. Set api.port in the configuration to another port`;
  return new QuaysideError(
    { code: 'PORT_UNUSABLE', sentence: `The API cannot listen on port ${port} of 127.0.0.1: ${why}.`, retry: 'later' },
    { cause },
  );
}
