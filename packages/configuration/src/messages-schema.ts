import { CommandSettings, EmailSettings, MessageRule, WebhookSettings } from '@quayside/messages';
import { FolderName } from '@quayside/shoot';
import { z } from 'zod';

/** Who is told what, by which channels: each key with its unit, default and price. */
export const Messages = z
  .strictObject({
    timeZone: z
      .string()
      .superRefine((zone, context) => {
        if (isZone(zone)) return;
        const remedy = 'write a name such as "Europe/Berlin" or "UTC"';
        context.addIssue({ code: 'custom', message: 'is not a time zone', params: { remedy } });
      })
      .optional()
      .describe(
        'IANA name of the time zone that quiet hours and the times in messages are meant in. Default: that of the machine.',
      ),
    email: z
      .record(FolderName, EmailSettings)
      .default({})
      .describe('Channels that send mail by SMTP, by name. Default: none.'),
    webhook: z
      .record(FolderName, WebhookSettings)
      .default({})
      .describe('Channels that post to an HTTP address, by name. Default: none.'),
    command: z
      .record(FolderName, CommandSettings)
      .default({})
      .describe('Channels that run a local program, by name. Default: none.'),
    rules: z
      .array(MessageRule)
      .prefault([{}])
      .describe('Which messages go where, and when. Default: every message to every channel, at once.'),
    lowSpacePercent: z
      .number()
      .min(0)
      .max(90)
      .default(10)
      .describe(
        'Share of a destination, in percent, that is to be free beyond keepFreeBytes; with less it is nearly full and people are told. Default 10; 0 tells nobody.',
      ),
  })
  .prefault({})
  .describe('Messages to people. Without a channel, the log and the event stream alone tell of what happens.');

function isZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }) instanceof Intl.DateTimeFormat;
  } catch {
    return false;
  }
}
