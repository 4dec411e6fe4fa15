import { z } from 'zod';
import { FolderName } from './recorder.ts';

/** What the runtime cannot fence: a guest's step asks for it, and the operator grants it by name. */
export const Grant = z.enum(['child-processes', 'native-addons', 'worker-threads', 'network']);
export type Grant = z.output<typeof Grant>;

/** The built-in steps that a guest's step can come after. */
export const BuiltInStep = z.enum(['seal', 'clearance', 'probe', 'sync-grouping', 'proxy-planning', 'records']);
export type BuiltInStep = z.output<typeof BuiltInStep>;

/** A guest's step by its full name: `<plugin>/<step>`. */
export const GuestStepName = z.string().regex(/^[a-z0-9][a-z0-9-]{0,63}\/[a-z0-9][a-z0-9-]{0,63}$/);

const Sentence = z.string().max(500);

/** What the runs of a step may use. MB are 10^6 bytes. */
export const StepLimits = z.object({
  seconds: z.number().positive().max(86_400).default(600),
  memoryMb: z.number().min(64).max(65_536).default(512),
  programsMb: z.number().min(64).max(1_000_000).default(4096),
  outputMb: z.number().positive().max(1_000_000).default(1024),
  parallel: z.number().int().min(1).max(64).default(1),
});
export type StepLimits = z.output<typeof StepLimits>;

/** A guest's step as its plugin states it: data only, since its code never runs in a process of ours. */
export const StepDescription = z.object({
  name: FolderName,
  scope: z.enum(['clip', 'roll', 'shoot']),
  description: Sentence.nullable(),
  /** Full names and built-in names, in no order. */
  after: z.array(z.union([BuiltInStep, GuestStepName])).max(64),
  asks: z.array(Grant),
  secrets: z.array(z.string().regex(/^[A-Za-z][A-Za-z0-9_-]{0,63}$/)).max(32),
  limits: StepLimits,
  /** Whether its runs are held up while drives are being taken in, unless the operator says otherwise. */
  makesWay: z.boolean().default(false),
});
export type StepDescription = z.output<typeof StepDescription>;

/** A plugin as it states itself. */
export const PluginDescription = z.object({
  apiVersion: z.number().int(),
  name: FolderName,
  version: z.string().min(1).max(64),
  description: Sentence.nullable(),
  steps: z.array(StepDescription).min(1).max(64),
});
export type PluginDescription = z.output<typeof PluginDescription>;
