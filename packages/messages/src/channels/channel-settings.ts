import { z } from 'zod';

function refuse(context: z.RefinementCtx, message: string, remedy: string): void {
  context.addIssue({ code: 'custom', message, params: { remedy } });
}

/** Where a secret is found. The secret itself never stands in the configuration. */
export const Secret = z
  .strictObject({
    env: z
      .string()
      .regex(/^[A-Za-z_][A-Za-z0-9_]*$/)
      .optional()
      .describe('Name of the variable of the environment of the service that holds it. Default: none, see file.'),
    file: z
      .string()
      .regex(/^\//)
      .optional()
      .describe('Absolute path of a file that holds it, read anew each time. Default: none, see env.'),
  })
  .superRefine((secret, context) => {
    if ((secret.env === undefined) === (secret.file === undefined))
      refuse(context, 'must have exactly one of `env` and `file`', 'name a variable, or a file');
  })
  .describe('Where the secret is found: `{ env: NAME }` or `{ file: PATH }`.');
export type Secret = z.output<typeof Secret>;

const TimeLimit = z.number().min(1).max(120);

export const WebhookSettings = z
  .strictObject({
    url: z
      .string()
      .superRefine((url, context) => {
        if (!/^https?:\/\/[^/?#\s]+/i.test(url))
          refuse(context, 'is not an address', 'write the whole address, from "https://" on');
        else if (/^https?:\/\/[^/?#]*@/i.test(url))
          refuse(context, 'holds a name or a password', 'leave them out; the signature says who sends');
      })
      .describe(
        'Address that each message is posted to, http or https. No default. Shown without what follows its host.',
      ),
    secret: Secret.describe(
      'Where the secret of the signature is found: text from "whsec_" on, base64 of 24 to 64 bytes, as Standard Webhooks has it. No default.',
    ),
    timeoutSeconds: TimeLimit.default(15).describe(
      'Seconds within which it must answer, 1 to 120. Default 15. More lets a dead receiver hold up the messages behind it.',
    ),
  })
  .describe('A channel that posts to an HTTP address, signed after Standard Webhooks.');
export type WebhookSettings = z.output<typeof WebhookSettings>;

const Address = z.string().regex(/^[^\s<>@,;:"]+@[^\s<>@,;:"]+$/);

export const EmailSettings = z
  .strictObject({
    host: z.string().min(1).describe('Name of the SMTP server. No default.'),
    port: z
      .int()
      .min(1)
      .max(65_535)
      .default(587)
      .describe('TCP port of the SMTP server. Default 587; 465 for tls: always.'),
    tls: z
      .enum(['starttls', 'always', 'never'])
      .default('starttls')
      .describe(
        'Encryption: `starttls`, asked for and insisted on, `always`, from the first byte, or `never`. Default starttls. With never, the mail and the password can be read on the way.',
      ),
    certificate: z
      .string()
      .regex(/^\//)
      .optional()
      .describe(
        'Absolute path of the certificate (PEM) that the server is trusted by, for one that no public authority signed. Default: the public ones.',
      ),
    user: z.string().min(1).optional().describe('Name to log in with. Default: no login.'),
    password: Secret.optional().describe('Where the password is found. Default: no login.'),
    from: Address.describe('Address of the sender. No default.'),
    to: z.array(Address).min(1).max(50).describe('Addresses that each message goes to, 1 to 50. No default.'),
    timeoutSeconds: TimeLimit.default(30).describe(
      'Seconds within which the server must take a message, 1 to 120. Default 30. More lets a dead server hold up the messages behind it.',
    ),
  })
  .superRefine(({ user, password }, context) => {
    if ((user === undefined) !== (password === undefined))
      refuse(context, 'must have both or none of `user` and `password`', 'add the other one');
  })
  .describe('A channel that sends mail by SMTP, as plain text and HTML.');
export type EmailSettings = z.output<typeof EmailSettings>;

export const CommandSettings = z
  .strictObject({
    command: z
      .array(z.string().min(1))
      .min(1)
      .describe(
        'The program and its arguments, started as they stand, without a shell; the message comes as JSON on its standard input. No default.',
      ),
    timeoutSeconds: TimeLimit.default(10).describe(
      'Seconds within which it must end, 1 to 120; then it is killed. Default 10. More lets one that hangs hold up the messages behind it.',
    ),
  })
  .superRefine(({ command: [program = ''] }, context) => {
    if (!program.startsWith('/')) refuse(context, 'does not begin with the path of a program', 'write its whole path');
  })
  .describe('A channel that runs a local program.');
export type CommandSettings = z.output<typeof CommandSettings>;

/** The settings of a channel with the kind that they are of. */
export type ChannelSettings =
  | { readonly kind: 'webhook'; readonly settings: WebhookSettings }
  | { readonly kind: 'email'; readonly settings: EmailSettings }
  | { readonly kind: 'command'; readonly settings: CommandSettings };
