import { deflateSync, inflateSync } from 'node:zlib';

/** Below this many characters deflating costs more than it spares. */
const SHORT = 1024;
/** The first byte of what `deflateSync` writes (RFC 1950, section 2.2: deflate, 32 KiB window). No JSON text begins with it. */
const DEFLATED = 0x78;

/** JSON as it lies in Redis: long text deflated. A roll of eighty clips takes 80 KB as text and 5 KB so. */
export function packJson(value: unknown): string | Buffer {
  const text = JSON.stringify(value);
  return text.length < SHORT ? text : deflateSync(text);
}

/** What `packJson` packed, or undefined when it cannot be read. */
export function unpackJson(stored: unknown): unknown {
  try {
    return JSON.parse(isDeflated(stored) ? inflateSync(stored).toString() : String(stored));
  } catch {
    return undefined;
  }
}

function isDeflated(stored: unknown): stored is Buffer {
  return Buffer.isBuffer(stored) && stored[0] === DEFLATED;
}
