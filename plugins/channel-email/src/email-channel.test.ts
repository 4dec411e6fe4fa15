import { execFileSync, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { composeLetter, sampleMessage } from '@quayside/messages';
import { type ChannelContext, sendLetter } from '@quayside/channel-contract';
import { SMTPServer, type SMTPServerOptions } from 'smtp-server';
import { afterAll, describe, expect, it, onTestFinished } from 'vitest';
import { emailChannel } from './email-channel.ts';

const letter = composeLetter({
  id: 'msg-0123456789abcdef01234567',
  messages: [
    { ...sampleMessage('roll.hold', '2026-03-01T10:00:00.000Z'), recorder: 'Töpfer\r\nBcc: all@studio.example' },
  ],
  timeZone: 'UTC',
});
const context: ChannelContext = {
  signal: new AbortController().signal,
  onStop: () => undefined,
  secret: async ({ env }) => `the ${env}`,
  environment: {},
};

interface Mail {
  readonly to: readonly string[];
  readonly isEncrypted: boolean;
  readonly raw: string;
}

/** A real SMTP server (the package smtp-server) that keeps what it is given. */
async function mailServer(options: SMTPServerOptions = {}): Promise<{ port: number; mails: Mail[]; logins: string[] }> {
  const mails: Mail[] = [];
  const logins: string[] = [];
  const server = new SMTPServer({
    authOptional: true,
    disableReverseLookup: true,
    onAuth({ username, password }, _, done) {
      logins.push(`${username} / ${password}`);
      if (password === 'the WRONG') done(new Error('Invalid user or password'));
      else done(null, { user: username });
    },
    onData(stream, session, done) {
      let raw = '';
      stream.setEncoding('utf8').on('data', (text: string) => {
        raw += text;
      });
      stream.on('end', () => {
        const to = session.envelope.rcptTo.map(({ address }) => address);
        mails.push({ to, isEncrypted: session.secure, raw });
        done();
      });
    },
    ...options,
  });
  server.on('error', () => undefined);
  server.listen(0, '127.0.0.1');
  await once(server.server, 'listening');
  onTestFinished(() => new Promise<void>((resolve) => server.close(() => resolve())));
  const address = server.server.address();
  return { port: typeof address === 'object' ? (address?.port ?? 0) : 0, mails, logins };
}

const base = { host: '127.0.0.1', from: 'quayside@studio.example', to: ['ada@studio.example', 'bo@studio.example'] };

function send(settings: object): Promise<void> {
  return sendLetter(emailChannel, { settings: { ...base, timeoutSeconds: 5, ...settings }, letter }, context);
}

const hasOpenssl = spawnSync('openssl', ['version']).status === 0;
const hasPython = spawnSync('python3', ['--version']).status === 0;

it.skipIf(!hasPython)(
  "sends one mail in two forms to all, as Python's email reads it (without python3: skipped)",
  async () => {
    const { port, mails } = await mailServer({ disabledCommands: ['STARTTLS', 'AUTH'] });
    await send({ port, tls: 'never' });
    expect(mails).toHaveLength(1);
    expect(mails[0]?.to).toEqual(base.to);
    expect(read(mails[0]?.raw ?? '')).toEqual({
      subject: 'HOLD: do not record over Töpfer Bcc: all@studio.example',
      to: 'ada@studio.example, bo@studio.example',
      bcc: null,
      id: '<msg-0123456789abcdef01234567@studio.example>',
      key: 'msg-0123456789abcdef01234567',
      auto: 'auto-generated',
      text: letter.text,
      html: letter.html,
    });
  },
);

it('insists on encryption unless told not to', async () => {
  const { port, mails } = await mailServer({ disabledCommands: ['STARTTLS', 'AUTH'] });
  await expect(send({ port })).rejects.toMatchObject({ code: 'CHANNEL_REFUSED', retry: 'later' });
  expect(mails).toEqual([]);
});

describe.skipIf(!hasOpenssl)(`with TLS${hasOpenssl ? '' : ' (skipped: openssl is not installed)'}`, () => {
  const folder = hasOpenssl ? mkdtempSync(join(tmpdir(), 'quayside-mail-')) : '';
  const certificate = join(folder, 'cert.pem');
  const key = join(folder, 'key.pem');
  if (hasOpenssl) {
    const wish = '-x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 2 -subj /CN=mail.studio.example';
    const files = ['-addext', 'subjectAltName=IP:127.0.0.1', '-keyout', key, '-out', certificate];
    execFileSync('openssl', ['req', ...wish.split(' '), ...files], { stdio: 'ignore' });
  }
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const tls = (): SMTPServerOptions => ({
    key: execFileSync('cat', [key]),
    cert: execFileSync('cat', [certificate]),
  });

  it.each([
    ['starttls', false],
    ['always', true],
  ])('logs in and sends encrypted (%s)', async (how, secure) => {
    const { port, mails, logins } = await mailServer({ ...tls(), secure });
    await send({ port, tls: how, certificate, user: 'studio', password: { env: 'PASSWORD' } });
    expect(logins).toEqual(['studio / the PASSWORD']);
    expect(mails.map(({ isEncrypted }) => isEncrypted)).toEqual([true]);
  });

  it('gives nothing to a server whose certificate nobody vouches for', async () => {
    const { port, mails, logins } = await mailServer(tls());
    await expect(send({ port, user: 'studio', password: { env: 'PASSWORD' } })).rejects.toThrow(/self-signed/);
    expect([mails, logins]).toEqual([[], []]);
  });

  it('tells that the login is refused, without the password', async () => {
    const { port } = await mailServer(tls());
    const sending = send({ port, certificate, user: 'studio', password: { env: 'WRONG' } });
    await expect(sending).rejects.toThrow(/Invalid login/);
    await expect(sending).rejects.not.toThrow(/the WRONG/);
  });
});

it('a server that says nothing is given up after its time', async () => {
  const server = createServer(() => undefined).listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => void server.close());
  const address = server.address();
  const port = typeof address === 'object' ? address?.port : 0;
  await expect(send({ port, tls: 'never', timeoutSeconds: 1 })).rejects.toMatchObject({ retry: 'later' });
});

it('a server that is not there, or takes no mail, is named with what it said', async () => {
  await expect(send({ port: 9, tls: 'never' })).rejects.toThrow(
    /127\.0\.0\.1:9 did not take the message: .*ECONNREFUSED/,
  );
  const { port } = await mailServer({
    disabledCommands: ['STARTTLS', 'AUTH'],
    onRcptTo: (_address, _session, done) => done(Object.assign(new Error('Mailbox is full'), { responseCode: 452 })),
  });
  await expect(send({ port, tls: 'never' })).rejects.toThrow(/Mailbox is full/);
});

/** What Python's standard library reads in a mail. */
function read(raw: string): unknown {
  const script = `
import sys, json, email, email.policy
m = email.message_from_string(sys.stdin.read(), policy=email.policy.default)
b = lambda kind: m.get_body((kind,)).get_content().replace("\\r\\n", "\\n")
print(json.dumps({"subject": m["subject"], "to": m["to"], "bcc": m["bcc"], "id": m["message-id"],
  "key": m["idempotency-key"], "auto": m["auto-submitted"], "text": b("plain"), "html": b("html")}))`;
  return JSON.parse(execFileSync('python3', ['-c', script], { input: raw, encoding: 'utf8' }));
}
