import { mkdir, rm, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { PipelineEvent } from '@quayside/shoot';

/**
 * Notes in a file that the service works, and gives what is to be told of its start. A file that is still there says that
 * the one before ended without a farewell: killed, crashed, or without power.
 */
export async function noteStart(file: string, now: string): Promise<PipelineEvent> {
  await mkdir(dirname(file), { recursive: true });
  const wasEnded = await writeFile(file, `${now}\n`, { flag: 'wx' }).then(
    () => true,
    () => false,
  );
  const sentence = wasEnded
    ? 'Quayside has started.'
    : 'Quayside has started again after it ended unexpectedly. Work goes on where it durably stood.';
  const data = { severity: wasEnded ? 'info' : 'warning' };
  return { type: 'service.started', at: now, subject: 'service', sentence, data };
}

/** Notes that it ended as it was told to. */
export async function noteStop(file: string): Promise<void> {
  await rm(file, { force: true });
}
