import { FolderName, Severity } from '@quayside/shoot';
import { z } from 'zod';
import { MessageKind } from '../message.ts';
import { QuietHours } from './quiet-hours.ts';

/** Which messages go where, and when. Each key with its unit, default and price. */
export const MessageRule = z
  .strictObject({
    channels: z
      .array(FolderName)
      .min(1)
      .optional()
      .describe('Names of the channels that these messages go to. Default: all that are configured.'),
    kinds: z
      .array(MessageKind)
      .min(1)
      .optional()
      .describe('Kinds of messages that go there, such as roll.clear and roll.hold. Default: all kinds.'),
    shoots: z
      .array(z.string().min(1))
      .min(1)
      .optional()
      .describe(
        'Ids of the shoots that these messages are about; `*` stands for any run of characters. Default: all, and what belongs to no shoot. Price: with this given, messages of no shoot (drives, disks, the service) do not go by this rule.',
      ),
    severity: Severity.default('info').describe(
      'The least severity that goes there: info, warning or critical. Default info. Price of a higher one: clear drives are of severity info.',
    ),
    digestMinutes: z
      .number()
      .min(0)
      .max(1440)
      .default(0)
      .describe(
        'Minutes for which messages are gathered to go out as one, 0 to 1440. Default 0: each at once. Price: each may be late by as much.',
      ),
    quiet: QuietHours.optional().describe('Hours in which messages wait. Default: none.'),
  })
  .describe('One rule: which messages go to which channels, and when.');
export type MessageRule = z.output<typeof MessageRule>;

/** The part of the configuration that decides about messages. */
export interface MessageSettings {
  /** IANA name of the zone that quiet hours are meant in. */
  readonly timeZone: string;
  readonly channels: readonly string[];
  readonly rules: readonly MessageRule[];
}
