import { join } from 'node:path';
import type { ShootSubject, StepSubject } from '@quayside/shoot';
import type { StepScope } from '../step-scope.ts';
import { layCopies, throwIfCopiesChanged, type TrialClip } from './lay-copies.ts';
import { subjectOfTrial } from './subject-of-trial.ts';

/** Copies of clips as they lie at a destination, and what a step is told of them. */
export interface LaidTrial {
  readonly subject: StepSubject;
  /** Absolute paths, by the ids of the subject's clips and rolls. */
  readonly clipPaths: Readonly<Record<string, string>>;
  readonly rollFolders: Readonly<Record<string, string>>;
  /** @throws TrialError when a copy is gone or has another content than when it was laid */
  throwIfChanged(): Promise<void>;
}

/** Lays copies of the clips into a folder, and makes the subject of them for a step of this scope. */
export async function layTrial(
  scope: StepScope,
  { clips, groups }: { readonly clips: readonly TrialClip[]; readonly groups?: ShootSubject['groups'] },
  folder: string,
): Promise<LaidTrial> {
  const laid = await layCopies(clips, folder);
  const subject = subjectOfTrial(
    scope,
    laid.map(({ clip }) => clip),
    groups,
  );
  return {
    subject,
    clipPaths: Object.fromEntries(laid.map(({ clip, path }) => [clip.id, path])),
    rollFolders: Object.fromEntries(laid.map(({ clip: { rollId } }) => [rollId, join(folder, rollId)])),
    throwIfChanged: () => throwIfCopiesChanged(laid),
  };
}
