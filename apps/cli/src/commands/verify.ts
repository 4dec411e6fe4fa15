import { resolve } from 'node:path';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { say, sayJson } from '../screen/say.ts';
import { recordVerification } from '../verify/record-verification.ts';
import { reportLines } from '../verify/report-lines.ts';
import { showProgress } from '../verify/show-progress.ts';
import { countVerdicts, outcomeOf } from '../verify/sum-up.ts';
import { verifyFolder } from '../verify/verify-folder.ts';

export interface VerifyOptions {
  readonly json?: boolean;
  /** False: record nothing. Else what is found is recorded, at a destination only. */
  readonly record?: boolean;
}

/** Reads a roll folder back and compares it with its manifests; records what was found as a further generation. */
export async function verify(folder: string, options: VerifyOptions, signal: AbortSignal): Promise<ExitCode> {
  const { onProgress, done } = await showProgress();
  const verification = await verifyFolder(resolve(folder), { signal, onProgress }).finally(done);
  const recording = options.record === false ? null : await recordVerification(verification);
  if (options.json === true) {
    const { root, verdicts, unreadable, specials, history } = verification;
    sayJson({
      folder: root,
      counts: countVerdicts(verification),
      files: verdicts,
      unreadable,
      specials,
      faults: history.faults,
      recording,
    });
  } else {
    say(...reportLines(verification, recording));
  }
  const outcome = outcomeOf(verification);
  const isUnrecorded = recording?.state === 'not-recorded' && recording.isFailure;
  return outcome === EXIT.ok && isUnrecorded ? EXIT.partial : outcome;
}
