import { printable } from '../screen/printable.ts';
import { sizeText } from '../screen/quantities.ts';
import type { VerifyControls } from './verify-folder.ts';

/** Shows how far a verification is, on standard error and only where a person watches. `done` takes the line away. */
export async function showProgress(): Promise<{
  readonly onProgress: VerifyControls['onProgress'];
  readonly done: () => void;
}> {
  if (!process.stderr.isTTY) return { onProgress: () => undefined, done: () => undefined };
  const { createLogUpdate } = await import('log-update');
  const draw = createLogUpdate(process.stderr);
  let drawnAt = 0;
  return {
    onProgress: ({ path, doneBytes, totalBytes }) => {
      const now = performance.now();
      if (now - drawnAt < 100) return;
      drawnAt = now;
      const percent = totalBytes === 0 ? 100 : Math.floor((doneBytes / totalBytes) * 100);
      draw(`${String(percent).padStart(3)} % of ${sizeText(totalBytes)}  ${printable(path)}`);
    },
    done: () => draw.clear(),
  };
}
