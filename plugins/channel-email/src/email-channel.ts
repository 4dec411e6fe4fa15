import { readFile } from 'node:fs/promises';
import { EmailSettings, type Letter } from '@quayside/messages';
import { QuaysideError } from '@quayside/shoot';
import { type ChannelContext, defineChannel } from '@quayside/channel-contract';

/** Sends each letter by SMTP, as plain text and HTML. It counts when the server has taken it for at least one address. */
export const emailChannel = defineChannel({
  kind: 'email',
  settings: EmailSettings,
  async send({ letter, settings, context }) {
    const options = await transportOptions(settings, context);
    // Half a megabyte that a service without mail need not hold.
    const { createTransport } = await import('nodemailer');
    const transport = createTransport(options);
    const limit = AbortSignal.timeout(settings.timeoutSeconds * 1000);
    const stop = new AbortController();
    context.onStop(() => stop.abort());
    try {
      await transport.sendMail({ ...mailOf(letter, settings), signal: AbortSignal.any([limit, stop.signal]) });
    } catch (error) {
      throw undelivered(settings, limit.aborted ? `it did not take it within ${settings.timeoutSeconds} s` : error);
    } finally {
      transport.close();
    }
  },
});

async function transportOptions(settings: EmailSettings, { secret }: ChannelContext) {
  const { host, port, tls, user, password, certificate, timeoutSeconds } = settings;
  const milliseconds = timeoutSeconds * 1000;
  const login = user === undefined || password === undefined ? {} : { auth: { user, pass: await secret(password) } };
  const trust = certificate === undefined ? {} : { tls: { ca: await readCertificate(certificate) } };
  return {
    host,
    port,
    secure: tls === 'always',
    // Without it, whoever sits in between could strip the offer of encryption and read the password.
    requireTLS: tls === 'starttls',
    ignoreTLS: tls === 'never',
    connectionTimeout: milliseconds,
    greetingTimeout: milliseconds,
    socketTimeout: milliseconds,
    disableFileAccess: true,
    disableUrlAccess: true,
    ...login,
    ...trust,
  };
}

function mailOf({ id, subject, text, html, at }: Letter, { from, to }: EmailSettings) {
  return {
    from,
    to,
    subject,
    text,
    html,
    date: new Date(at),
    // The same for every try: mail programs and servers then show one.
    messageId: `<${id}@${from.split('@').at(-1)}>`,
    // RFC 3834: nobody's absence note should answer a machine.
    headers: { 'Idempotency-Key': id, 'Auto-Submitted': 'auto-generated' },
  };
}

async function readCertificate(path: string): Promise<string> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    const sentence = `The certificate ${path} of a mail channel cannot be read (${why}). Correct the path, or its rights.`;
    throw new QuaysideError({ code: 'CERTIFICATE_UNREADABLE', sentence, retry: 'later' }, { cause: error });
  }
}

function undelivered({ host, port }: EmailSettings, why: unknown): QuaysideError {
  const reason = why instanceof Error ? why.message : String(why);
  return new QuaysideError(
    {
      code: 'CHANNEL_REFUSED',
      sentence: `The mail server ${host}:${port} did not take the message: ${reason.replace(/[.\s]+$/, '')}. See its settings, and what it says.`,
      retry: 'later',
    },
    { cause: why },
  );
}
