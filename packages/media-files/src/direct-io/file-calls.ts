import {
  close,
  fstat,
  fsync,
  ftruncate,
  futimes,
  link,
  lstat,
  mkdir,
  open,
  read,
  rename,
  stat,
  type Stats,
  unlink,
  write,
} from 'node:fs';

type Path = string | Buffer;

/**
 * The plain file calls on descriptors, as promises. `node:fs/promises` wraps each descriptor in an object that costs more
 * than the call itself when ten thousand small files go through.
 */
export const fileCalls = {
  open: (path: Path, flags: number): Promise<number> => promised((done) => open(path, flags, 0o666, done)),
  close: (fd: number): Promise<void> => completed((done) => close(fd, done)),
  fstat: (fd: number): Promise<Stats> => promised((done) => fstat(fd, done)),
  lstat: (path: Path): Promise<Stats> => promised((done) => lstat(path, done)),
  stat: (path: Path): Promise<Stats> => promised((done) => stat(path, done)),
  fsync: (fd: number): Promise<void> => completed((done) => fsync(fd, done)),
  ftruncate: (fd: number, length: number): Promise<void> => completed((done) => ftruncate(fd, length, done)),
  /** Sets both times, in seconds since 1970. */
  futimes: (fd: number, seconds: number): Promise<void> => completed((done) => futimes(fd, seconds, seconds, done)),
  link: (path: Path, newPath: Path): Promise<void> => completed((done) => link(path, newPath, done)),
  unlink: (path: Path): Promise<void> => completed((done) => unlink(path, done)),
  rename: (path: Path, newPath: Path): Promise<void> => completed((done) => rename(path, newPath, done)),
  mkdir: (path: Path): Promise<void> => completed((done) => mkdir(path, done)),
  read: (fd: number, bytes: Uint8Array, position: number): Promise<number> =>
    promised((done) => read(fd, bytes, 0, bytes.length, position, done)),
  write: (fd: number, bytes: Uint8Array, position: number): Promise<number> =>
    promised((done) => write(fd, bytes, 0, bytes.length, position, done)),
};

/** The system's code of an error (`ENOSPC`), or `''`. */
export function errorCodeOf(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}

/** What the call gives, or null when it fails with one of these codes; any other failure is thrown. */
export async function unlessCode<Value>(codes: readonly string[], call: Promise<Value>): Promise<Value | null> {
  try {
    return await call;
  } catch (error) {
    if (codes.includes(errorCodeOf(error))) return null;
    throw error;
  }
}

function promised<Value>(call: (done: (error: Error | null, value: Value) => void) => void): Promise<Value> {
  return new Promise((resolve, reject) => call((error, value) => (error === null ? resolve(value) : reject(error))));
}

function completed(call: (done: (error?: Error | null) => void) => void): Promise<void> {
  return new Promise((resolve, reject) => call((error) => (error ? reject(error) : resolve())));
}
