import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';

const LOADS_AGAIN_AFTER_MS = 10_000;

/** Stands in place of everything when the page has a fault of its own: no earlier verdict stays, and it starts anew by itself. */
export function FailedView(): JSX.Element {
  useEffect(() => {
    const timer = setTimeout(() => location.reload(), LOADS_AGAIN_AFTER_MS);
    return () => clearTimeout(timer);
  }, []);
  return (
    <main class="sign-in">
      <h1>Not known now. Record over no drive.</h1>
      <p role="alert">
        This page has a fault of its own and shows nothing rather than something old. It loads itself again in a moment.
        Meanwhile ask the service: <code>quayside status</code>
      </p>
    </main>
  );
}
