export type {
  Capabilities,
  CapabilityName,
  CopyOutcome,
  CopyRequest,
  Destination,
  Facts,
  Footage,
  GuestResult,
  Manifests,
  Messages,
  ReadBackOutcome,
  ReadBackRequest,
  RecopyOutcome,
  RecopyRequest,
  Rolls,
  ShootMaterial,
  ShootPlace,
  Shoots,
  WorkControls,
} from './capabilities.ts';
export { runStep } from './run-step.ts';
export { CONTRACT_VERSION, definePlugin, defineStep } from './step.ts';
export type { Plugin, Step, StepContext, StopSignal } from './step.ts';
