import { execFileSync } from 'node:child_process';
import { type Browser, chromium } from 'playwright-core';

const PROGRAM = find(['chromium', 'chromium-browser']);

/** Why tests in a browser are skipped here, or null. */
export const NO_BROWSER = PROGRAM === null ? 'no Chromium; install the system’s package chromium to run it' : null;

/** A browser of the system without a window; nothing of it goes to the network. Close it, or use `await using`. */
export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: PROGRAM ?? '',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--disable-background-networking', '--disable-sync'],
  });
}

function find(names: readonly string[]): string | null {
  for (const name of names) {
    try {
      return execFileSync('sh', ['-c', `command -v ${name}`], { encoding: 'utf8' }).trim();
    } catch {
      // Not under this name.
    }
  }
  return null;
}
