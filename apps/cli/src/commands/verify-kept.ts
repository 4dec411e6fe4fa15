import { setTimeout as pause } from 'node:timers/promises';
import type { AnswerOf, ApiClient } from '@quayside/api-client';
import { failureOf } from '@quayside/shoot';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { countText, sizeText } from '../screen/quantities.ts';
import { printable } from '../screen/printable.ts';
import { remark, say, sayJson } from '../screen/say.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';
import { showRereadProgress, type VerifyProgress } from '../verify/show-reread-progress.ts';

type VerifyAnswer = AnswerOf<'post', '/v1/shoots/{id}/verify'>;

export interface VerifyKeptOptions {
  readonly config?: string;
  readonly json?: boolean;
}

/** What is to be verified: all rolls of a shoot, or all that lies at a destination. */
export interface Kept {
  readonly kind: 'shoot' | 'destination';
  readonly id: string;
}

const ASK_EVERY_MS = 500;

/**
 * Has the running service read everything of a shoot or at a destination again, and waits for what comes of it. Interrupted, it
 * only stops waiting: the service goes on.
 */
export async function verifyKept(kept: Kept, options: VerifyKeptOptions, signal: AbortSignal): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const path = pathOf(kept);
  const plan = await service.post(path, { path: { id: kept.id } });
  if (options.json !== true) say(...planLines(plan));
  if (plan.files === 0) return EXIT.partial;
  const progress = await waitUntilDone(service, plan, signal);
  if (progress === null) {
    remark('The service goes on with it.');
    return EXIT.interrupted;
  }
  if (options.json === true) sayJson(progress);
  else say(...summaryLines(progress));
  return progress.bad.length + progress.unread.length === 0 ? EXIT.ok : EXIT.failed;
}

function pathOf({ kind }: Kept): '/v1/shoots/{id}/verify' | '/v1/destinations/{id}/verify' {
  return `/v1/${kind}s/{id}/verify`;
}

/** Null when it is interrupted. A service that is away for a moment is waited for. */
async function waitUntilDone(
  service: ApiClient,
  plan: VerifyAnswer,
  signal: AbortSignal,
): Promise<VerifyProgress | null> {
  const shown = await showRereadProgress();
  try {
    for (;;) {
      const progress = await askForProgress(service, plan);
      if (progress?.isDone === true) return progress;
      if (progress !== null) shown.draw(progress);
      await pause(ASK_EVERY_MS, undefined, { signal }).catch(() => undefined);
      if (signal.aborted) return null;
    }
  } finally {
    shown.done();
  }
}

async function askForProgress(service: ApiClient, plan: VerifyAnswer): Promise<VerifyProgress | null> {
  try {
    return await service.get(pathOf(plan), { path: { id: plan.id }, query: { since: plan.since } });
  } catch (error) {
    if (failureOf(error).retry === 'never') throw error;
    return null;
  }
}

function planLines({ rolls, files, bytes, sentence }: VerifyAnswer): string[] {
  if (files === 0) return [sentence];
  return [sentence, `  ${countText(rolls, 'roll')}, ${countText(files, 'file')}, ${sizeText(bytes)} to read.`];
}

function summaryLines({ copies, bytes, bad, unread }: VerifyProgress): string[] {
  const badFiles = bad.reduce((sum, one) => sum + one.badFiles, 0);
  const isGood = bad.length + unread.length === 0;
  return [
    ...bad.map(
      ({ rollId, destination, badFiles: count, isMended }) =>
        `BAD         ${rollId} at ${destination}: ${countText(count, 'file')}, ${isMended ? 'made anew and proven' : 'not made anew yet; see its findings'}`,
    ),
    ...unread.map(
      ({ rollId, destination, failure }) => `NOT READ    ${rollId} at ${destination}: ${printable(failure.sentence)}`,
    ),
    `Read again: ${countText(copies, 'roll')} (each destination counts), ${sizeText(bytes)}. ${isGood ? 'All is as it was proven.' : `${countText(badFiles, 'file')} bad; ${countText(unread.length, 'roll')} not read to the end.`}`,
  ];
}
