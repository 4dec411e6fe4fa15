import type { StopSignal } from '@quayside/step-sdk/built-in';

const LOOK_EVERY_MS = 200;

/** Calls once when the signal aborts, at once if it has. Gives what ends the watching. A signal without events is looked at. */
export function whenAborted(signal: StopSignal, call: () => void): () => void {
  if (signal.aborted) {
    call();
    return () => undefined;
  }
  if (signal instanceof AbortSignal) {
    signal.addEventListener('abort', call, { once: true });
    return () => signal.removeEventListener('abort', call);
  }
  const timer = setInterval(() => {
    if (!signal.aborted) return;
    clearInterval(timer);
    call();
  }, LOOK_EVERY_MS);
  return () => clearInterval(timer);
}
