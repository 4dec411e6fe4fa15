import type { AnswerOf } from '@quayside/api-client';
import { sizeText } from '../screen/quantities.ts';

export type VerifyProgress = AnswerOf<'get', '/v1/shoots/{id}/verify'>;

/** Shows how far the service is with reading again, on standard error and only where a person watches. `done` takes the line away. */
export async function showRereadProgress(): Promise<{
  readonly draw: (progress: VerifyProgress) => void;
  readonly done: () => void;
}> {
  if (!process.stderr.isTTY) return { draw: () => undefined, done: () => undefined };
  const { createLogUpdate } = await import('log-update');
  const draw = createLogUpdate(process.stderr);
  return { draw: (progress) => draw(rereadLine(progress)), done: () => draw.clear() };
}

function rereadLine({ bytes, bytesDone, copies, copiesDone, bad, waitsForIntake }: VerifyProgress): string {
  const percent = bytes === 0 ? 100 : Math.floor((bytesDone / bytes) * 100);
  const found = bad.length === 0 ? '' : `, ${bad.length} with bad files`;
  const waiting = waitsForIntake ? '  waits while a drive is taken in' : '';
  return `${String(percent).padStart(3)} % of ${sizeText(bytes)}, ${copiesDone} of ${copies} rolls${found}${waiting}`;
}
