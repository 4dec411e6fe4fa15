import type { Instant, PipelineEvent, Roll } from '@quayside/shoot';
import { matterOf } from '@quayside/shoot';
import { activityOf, takingDestinations } from './activity.ts';
import { announceRepairs } from './announce-repairs.ts';
import { matterToTell } from './matter-to-tell.ts';
import { rollNumbers } from './time-left.ts';

/** The events that a change of a roll is worth: what listeners see is what the state shows, in the same order. */
export function announce(before: Roll | null, after: Roll, now: Instant): readonly PipelineEvent[] {
  if (before === after) return [];
  const tell = (type: PipelineEvent['type'], sentence: string): PipelineEvent => ({
    type,
    at: now,
    subject: after.id,
    sentence,
  });
  const events: PipelineEvent[] = [];
  if (before === null || before.visit !== after.visit) {
    events.push(
      tell(
        'roll.listed',
        `Roll ${after.id} of ${after.recorder}: ${after.fileCount} files are to be copied and proven.`,
      ),
    );
  }
  if (before !== null && before.mount === null && after.mount !== null)
    events.push(tell('roll.resumed', `The drive of roll ${after.id} is back.`));
  if (before !== null && before.mount !== null && after.mount === null && activityOf(after) === 'interrupted') {
    events.push(
      tell(
        'roll.interrupted',
        `The drive of roll ${after.id} cannot be read any more, with ${percentDone(after)} % of its work done; it goes on when the drive is back.`,
      ),
    );
  }
  if (before !== null && before.shootId !== after.shootId)
    events.push(tell('roll.moved', `Roll ${after.id} now lies in shoot ${after.shootId}.`));
  if (!isCopied(before, after) && isCopied(after, after))
    events.push(tell('roll.copied', `All files of roll ${after.id} are written.`));
  if (!isVerified(before, after) && isVerified(after, after))
    events.push(tell('roll.verified', `All copies of roll ${after.id} are read back and proven.`));
  for (const name of takingDestinations(after)) {
    const generation = after.destinations[name]?.sealedGeneration ?? null;
    if (generation !== null && before?.destinations[name]?.sealedGeneration !== generation) {
      events.push(tell('roll.sealed', `Roll ${after.id} is sealed at ${name} (manifest generation ${generation}).`));
    }
  }
  events.push(...rereads(before, after, tell));
  events.push(...announceRepairs(before, after, now));
  const known = new Set(before?.findings.map(matterOf));
  for (const finding of after.findings) {
    if (!known.has(matterOf(finding))) {
      events.push({
        ...tell('finding.raised', `${finding.why} ${finding.remedy}`),
        data: {
          code: finding.code,
          severity: finding.severity,
          roll: after.id,
          shoot: after.shootId,
          recorder: after.recorder,
        },
      });
    }
  }
  events.push(...verdicts(before, after, tell));
  return events;
}

function percentDone(roll: Roll): number {
  return Math.floor(rollNumbers(roll, null).fraction * 100);
}

function rereads(
  before: Roll | null,
  after: Roll,
  tell: (type: PipelineEvent['type'], sentence: string) => PipelineEvent,
): readonly PipelineEvent[] {
  return Object.entries(after.destinations).flatMap(([name, { reread }]) => {
    if (reread === null || reread.endedAt === null || before?.destinations[name]?.reread?.endedAt !== null) return [];
    const { badFiles, generation, failure } = reread;
    const found =
      badFiles === 0
        ? 'all is as it was proven'
        : `${badFiles === 1 ? 'one file was' : `${badFiles} files were`} bad or gone`;
    const sentence =
      failure === null
        ? `Roll ${after.id} was read again at ${name}: ${found} (manifest generation ${generation}).`
        : `Roll ${after.id} could not be read again at ${name}: ${failure.sentence}`;
    return [{ ...tell('roll.reread', sentence), data: { destination: name, badFiles, generation } }];
  });
}

function verdicts(
  before: Roll | null,
  after: Roll,
  tell: (type: PipelineEvent['type'], sentence: string) => PipelineEvent,
): readonly PipelineEvent[] {
  const now = matterToTell(after);
  if (now === null || after.clearance === before?.clearance) return [];
  // A recheck that finds what it found before is no news.
  if (before?.clearance.verdict === after.clearance.verdict && before.told === now.matter) return [];
  return [
    {
      ...tell(after.clearance.verdict === 'clear' ? 'roll.clear' : 'roll.hold', now.sentence),
      data:
        after.clearance.verdict === 'clear' ? {} : { reasons: after.clearance.reasons.map((reason) => reason.code) },
    },
  ];
}

function isCopied(roll: Roll | null, like: Roll): boolean {
  return everyCopy(roll, like, (state) => state === 'written' || state === 'verified');
}

function isVerified(roll: Roll | null, like: Roll): boolean {
  return everyCopy(roll, like, (state) => state === 'verified');
}

function everyCopy(roll: Roll | null, like: Roll, holds: (state: string) => boolean): boolean {
  if (roll === null || roll.visit !== like.visit) return false;
  const taking = takingDestinations(roll);
  return (
    taking.length > 0 &&
    roll.parcels.every((parcel) => taking.every((name) => holds(parcel.copies[name]?.state ?? 'absent')))
  );
}
