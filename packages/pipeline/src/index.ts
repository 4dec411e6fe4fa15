export type {
  ClearancePolicy,
  DestinationEvidence,
  Evidence,
  ProvenCopy,
  VolumeEvidence,
} from './clearance/evidence.ts';
export { judgeClearance } from './clearance/judge-clearance.ts';
export { matchRoll } from './intake/match-roll.ts';
export type { KnownRoll } from './intake/match-roll.ts';
export { planParcels } from './intake/plan-parcels.ts';
export { bytesStillToCome, reserveSpace } from './intake/reserve-space.ts';
export type { Space } from './intake/reserve-space.ts';
export { believeTimes } from './keeping/believe-times.ts';
export { isBeingTakenIn } from './keeping/is-being-taken-in.ts';
export { keptCopies } from './keeping/kept-copies.ts';
export type { KeptCopy } from './keeping/kept-copies.ts';
export { isDoneSince, nextReread, nextWished, wishedCopies } from './keeping/next-reread.ts';
export type { NextReread, RereadPlan, RereadWish } from './keeping/next-reread.ts';
export { isSought } from './roll-state/absence.ts';
export { activityOf, isAtRest, takingDestinations } from './roll-state/activity.ts';
export { advance } from './roll-state/advance.ts';
export { announce } from './roll-state/announce.ts';
export { matterToTell } from './roll-state/matter-to-tell.ts';
export type { Matter } from './roll-state/matter-to-tell.ts';
export { copiesToTryAgain, destinationsWaitedFor, maySleep } from './roll-state/may-sleep.ts';
export { findFailedRun } from './roll-state/find-failed-run.ts';
export type { RunStanding } from './roll-state/find-failed-run.ts';
export { failedStepOf } from './roll-state/retry.ts';
export { RETRY_STEPS } from './roll-state/roll-event.ts';
export { mayTakeOver } from './roll-state/take-over-record.ts';
export type {
  BadCopy,
  ListedRoll,
  ParcelOutcome,
  RecordedRoll,
  RetryStep,
  RetryWish,
  RollEvent,
} from './roll-state/roll-event.ts';
export { isWholeAt } from './roll-state/reread.ts';
export { rollNumbers } from './roll-state/time-left.ts';
export type { BytesDone, RollNumbers } from './roll-state/time-left.ts';
export { canBeJudged } from './roll-state/verdict.ts';
export { wantedRuns } from './roll-state/wanted-runs.ts';
export { wasSealed } from './roll-state/was-sealed.ts';
export { orderParcels, type GroupToCopy } from './shoot-state/order-parcels.ts';
export { factsState, planState, recordsState } from './shoot-state/shoot-states.ts';
export { NO_PROGRESS, wantedShootRuns } from './shoot-state/wanted-shoot-runs.ts';
export { decideRuns, keyOfRun } from './guest-steps/decide-runs.ts';
export type { BuiltInOutput, GuestSubject, LastRun, RunDecision, Situation } from './guest-steps/decide-runs.ts';
export type { Fingerprint } from './guest-steps/fingerprint.ts';
export { orderSteps } from './guest-steps/order-steps.ts';
export type { GuestStep, OrderedSteps, PluginInUse } from './guest-steps/order-steps.ts';
export { provenAt } from './guest-steps/proven-at.ts';
export { PROXY_STEP } from './guest-steps/proxy-step.ts';
