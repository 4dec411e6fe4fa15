import type { RollAnswer } from './roll-answer.ts';

/** The service judges a drive that is connected and at rest again each minute; a verdict that was not renewed for this long is old. */
const VERDICT_OLD_AFTER_MS = 5 * 60_000;
/** By so much two clocks may differ. */
const VERDICT_AHEAD_MS = 60_000;

/**
 * Whether a verdict is too old to be passed on as a yes; `atMs` is the moment of the look. A time that is none is old, too, and so
 * is one that lies ahead: a clock has been set back since, and how old it is nobody knows.
 */
export function isVerdictOld({ clearance }: RollAnswer, atMs: number): boolean {
  const ageMs = atMs - Date.parse(clearance.judgedAt);
  return !(ageMs <= VERDICT_OLD_AFTER_MS && ageMs >= -VERDICT_AHEAD_MS);
}

/**
 * Whether nothing but a drive's absence holds its roll: every file of it that is known of is proven and sealed wherever it was to
 * go. Say after the view was lost and read again from the records: a thousand such drives need nobody's look.
 */
export function restsAway({ clearance, destinations, fileCount }: RollAnswer): boolean {
  const taking = Object.values(destinations).filter(({ standing }) => standing === 'taking');
  return (
    clearance.verdict === 'hold' &&
    clearance.reasons.every(({ code }) => code === 'VOLUME_AWAY') &&
    taking.length > 0 &&
    taking.every(
      ({ failure, sealedGeneration, verifiedFiles }) =>
        failure === null && sealedGeneration !== null && verifiedFiles === fileCount,
    )
  );
}

/** The destinations at which all of a roll is proven and sealed, by name. */
export function placesProven({ destinations, fileCount }: RollAnswer): readonly string[] {
  return Object.entries(destinations)
    .filter(([, { sealedGeneration, verifiedFiles }]) => sealedGeneration !== null && verifiedFiles === fileCount)
    .map(([name]) => name)
    .toSorted();
}
