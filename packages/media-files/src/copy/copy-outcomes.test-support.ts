import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { CopyOutcome } from '@quayside/step-sdk/built-in';
import { listVolume } from '../listing/list-volume.ts';
import { ROLL } from '../media-files.test-support.ts';

/** One line per outcome: path, destination, and where it is stored or why it is not. */
export function summary(outcomes: readonly CopyOutcome[]): string[] {
  return outcomes.map((outcome) =>
    outcome.state === 'written'
      ? `${outcome.path} ${outcome.destination} ${outcome.storedPath}${outcome.already ? ' already' : ''}`
      : `${outcome.path} ${outcome.destination} ${outcome.failure.code}`,
  );
}

/** Everything that is at a destination except what is ours. */
export async function storedAt(root: string): Promise<string[]> {
  const { files } = await listVolume(root, { litter: ['.quayside*', 'lost+found'] });
  return files.map(({ path }) => path.replace(`${ROLL.folder}/`, ''));
}

/** What is left in staging. */
export async function stagedAt(root: string): Promise<string[]> {
  return (await readdir(join(root, '.quayside/staging'), { recursive: true })).filter((name) => name.endsWith('.part'));
}
