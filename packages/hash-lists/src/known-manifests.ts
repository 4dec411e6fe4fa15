import type { Manifest } from './manifest.ts';

const MOST = 8;
const MOST_FILES = 50_000;
const FORGET_AFTER_MS = 10 * 60_000;

const known = new Map<string, { readonly manifest: Manifest; readonly timer: NodeJS.Timeout }>();

/**
 * Remembers for some minutes what bytes of this C4 ID say, without refusals: a roll is sealed, judged, and judged again each
 * minute as long as its drive is there, and parsing ten thousand records takes longer than all else about that. What the bytes
 * are is found out anew each time.
 */
export function rememberManifest(c4: string, manifest: Manifest): void {
  forget(c4);
  if (manifest.files.length > MOST_FILES) return;
  const [oldest] = known.keys();
  if (known.size === MOST && oldest !== undefined) forget(oldest);
  known.set(c4, { manifest, timer: setTimeout(() => forget(c4), FORGET_AFTER_MS).unref() });
}

/** What bytes of this C4 ID are known to say, or null. */
export function recallManifest(c4: string): Manifest | null {
  const found = known.get(c4)?.manifest ?? null;
  if (found !== null) rememberManifest(c4, found);
  return found;
}

function forget(c4: string): void {
  clearTimeout(known.get(c4)?.timer);
  known.delete(c4);
}
