export { createGuestHost } from './create-guest-host.ts';
export type { GuestHost, GuestHostOptions } from './create-guest-host.ts';
export type { Described } from './describe-in-guest.ts';
export { findPlugin } from './plugin-source/find-plugin.ts';
export type { PluginSource } from './plugin-source/find-plugin.ts';
export { PauseSwitch } from './run/pause-switch.ts';
export type { GuestOutcome, GuestRun, OutputFiles, RunControls } from './run/guest-run.ts';
export { systemFences } from './run/system-fences.ts';
export type { SystemFences } from './run/system-fences.ts';
