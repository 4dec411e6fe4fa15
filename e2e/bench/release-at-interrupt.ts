type Release = () => unknown;

const held = new Set<Release>();

/**
 * Has something let go, newest first, when a person or the system ends the bench. Gives a function that calls it off.
 * What ends by itself or by disposal need not be here; a service, a mount and a running command must.
 */
export function releaseAtInterrupt(release: Release): () => void {
  if (held.size === 0 && !isListening) listen();
  held.add(release);
  return () => void held.delete(release);
}

let isListening = false;

function listen(): void {
  isListening = true;
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => void end());
}

async function end(): Promise<void> {
  for (const release of [...held].toReversed()) {
    try {
      await release();
    } catch (error) {
      process.stderr.write(`Something could not be cleared away: ${String(error)}\n`);
    }
  }
  process.exit(130);
}
