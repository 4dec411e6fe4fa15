import { z } from 'zod';
import { Instant } from './instant.ts';

/** What listeners are told. `id` comes from the stream and only grows, so a listener can resume after the last it saw. */
export const EventType = z.enum([
  'volume.seen',
  'volume.settled',
  'volume.gone',
  'volume.assigned',
  'shoot.opened',
  'shoot.grouped',
  'shoot.planned',
  'shoot.approved',
  'shoot.held',
  'shoot.recorded',
  'shoot.renamed',
  'shoot.closed',
  'shoot.complete',
  'roll.listed',
  'roll.copied',
  'roll.verified',
  'roll.sealed',
  'roll.reread',
  'roll.interrupted',
  'roll.resumed',
  'roll.moved',
  'roll.clear',
  'roll.hold',
  'copy.bad',
  'copy.repaired',
  'destination.low',
  'destination.roomy',
  'service.started',
  'message.asked',
  'message.sent',
  'message.given-up',
  'finding.raised',
  'run.failed',
]);
export type EventType = z.output<typeof EventType>;

export const PipelineEvent = z.object({
  type: EventType,
  at: Instant,
  /** The roll, volume, shoot or destination that it is about. */
  subject: z.string(),
  /** One sentence a person can read. */
  sentence: z.string(),
  data: z.record(z.string(), z.json()).optional(),
});
export type PipelineEvent = z.output<typeof PipelineEvent>;

export const StreamedEvent = PipelineEvent.extend({ id: z.string() });
export type StreamedEvent = z.output<typeof StreamedEvent>;
