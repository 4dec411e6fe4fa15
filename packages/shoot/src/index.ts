export { Clearance, HoldReason } from './clearance.ts';
export { Clip, DamageKind, MediaFacts, PictureFacts, Ratio, SoundFacts, WaveFacts } from './clip-facts.ts';
export { Copy, CopyState, ReadBackMethod } from './copy.ts';
export { deviceNumber } from './device-number.ts';
export { Failure, failureOf, QuaysideError, Remedy } from './failure.ts';
export { FileEntry, FileFacts, VolumeListing } from './file-entry.ts';
export { Finding, matterOf, Severity, Subject } from './finding.ts';
export { GuestRunRecord, GuestRunState, GuestRunSummary, GuestWait, PluginStanding } from './guest-run-record.ts';
export { Digests, HashAlgorithm } from './hash-algorithm.ts';
export { Instant } from './instant.ts';
export { EventType, PipelineEvent, StreamedEvent } from './pipeline-event.ts';
export {
  BuiltInStep,
  Grant,
  GuestStepName,
  PluginDescription,
  StepDescription,
  StepLimits,
} from './plugin-description.ts';
export { FolderName, RecorderRole } from './recorder.ts';
export { Parcel, ParcelCopy, Reread, Roll, RollActivity, RollDestination, RollFacts, rollFolder } from './roll.ts';
export { RunLog, RunLogLine } from './run-log.ts';
export { RunRequest } from './run-request.ts';
export { Shoot } from './shoot.ts';
export { Acknowledgement, ShootProgress, ShootStep } from './shoot-progress.ts';
export { ClipSubject, RollSubject, ShootSubject, StepSubject } from './step-subject.ts';
export { isClockUnset } from './unset-clock.ts';
export { VERSION } from './version.ts';
export { Mount, Volume, VolumeIdentity, VolumeStanding } from './volume.ts';
