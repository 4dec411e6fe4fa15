import { setTimeout as wait } from 'node:timers/promises';
import type { Configuration } from '@quayside/configuration';
import { findPlugin } from '@quayside/guest-host';

const LOOK_EVERY_MS = 3000;

/**
 * Looks every three seconds whether the files of a plugin have changed, until the signal aborts, and waits for `onChange`
 * when they have. Runs under way go on with what they were begun with.
 */
export async function watchPlugins(
  { wanted, folder }: { readonly wanted: Configuration['plugins']; readonly folder: string },
  onChange: () => Promise<void>,
  signal: AbortSignal,
): Promise<void> {
  const stateNow = async (): Promise<string> => {
    const used = wanted.filter(({ isOn }) => isOn);
    return (await Promise.all(used.map(({ use }) => stateOf(use, folder)))).join(' ');
  };
  let known = await stateNow();
  while (!signal.aborted) {
    await wait(LOOK_EVERY_MS, undefined, { signal }).catch(() => undefined);
    const now = await stateNow();
    if (now === known || signal.aborted) continue;
    known = now;
    await onChange();
  }
}

// One that is gone, or not there yet, is a state too.
async function stateOf(use: string, folder: string): Promise<string> {
  return findPlugin(use, folder).then(
    ({ state }) => state,
    () => 'absent',
  );
}
