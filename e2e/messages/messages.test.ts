import { once } from 'node:events';
import { writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { SMTPServer } from 'smtp-server';
import { Webhook } from 'standardwebhooks';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { Studio } from '../main-job/studio.test-support.ts';

const SECRET = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw';
const ability = await canMountDrives();

interface Posted {
  readonly key: string;
  readonly type: string;
  readonly isTaken: boolean;
  readonly sentence: string;
}

describe.skipIf(!ability.ok)(
  `messages of a whole ingest${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    let studio: Studio;
    const posted: Posted[] = [];
    const mails: string[] = [];
    let isTaking = false;
    const hook = createServer(async (request, response) => {
      let body = '';
      for await (const chunk of request.setEncoding('utf8')) body += String(chunk);
      // The specification's own library: it throws unless the signature is right and fresh.
      const given = new Webhook(SECRET).verify(body, request.headers as Record<string, string>) as {
        type: string;
        data: { id: string; messages: { sentence: string }[] };
      };
      const isTaken = isTaking || given.type !== 'roll.clear';
      posted.push({ key: given.data.id, type: given.type, isTaken, sentence: given.data.messages[0]?.sentence ?? '' });
      response.writeHead(isTaken ? 204 : 500).end();
    });
    const mailServer = new SMTPServer({
      disabledCommands: ['STARTTLS', 'AUTH'],
      disableReverseLookup: true,
      onData(stream, _session, done) {
        let raw = '';
        stream.setEncoding('utf8').on('data', (text: string) => {
          raw += text;
        });
        stream.on('end', () => {
          mails.push(raw);
          done();
        });
      },
    });

    beforeAll(async () => {
      hook.listen(0, '127.0.0.1');
      mailServer.listen(0, '127.0.0.1');
      await Promise.all([once(hook, 'listening'), once(mailServer.server, 'listening')]);
      studio = await Studio.open();
      await studio.record({ recorder: 'wheel', files: { 'CLIPS/a.mov': 3_000_000, 'CLIPS/b.mov': 500_000 } });
      await studio.addDestination('primary');
      await studio.addDestination('backup');
      await writeFile(join(studio.folder, 'hook.secret'), `${SECRET}\n`);
      await studio.start({
        messages: {
          lowSpacePercent: 0,
          webhook: {
            planning: {
              url: `http://127.0.0.1:${portOf(hook.address())}/hook`,
              secret: { file: join(studio.folder, 'hook.secret') },
            },
          },
          email: {
            operator: {
              host: '127.0.0.1',
              port: portOf(mailServer.server.address()),
              tls: 'never',
              from: 'quayside@studio.example',
              to: ['operator@studio.example'],
            },
          },
        },
      });
      await studio.plug('wheel');
      await studio.service.verdicts(1);
    }, 240_000);
    afterAll(async () => {
      await studio[Symbol.asyncDispose]();
      hook.closeAllConnections();
      hook.close();
      mailServer.close();
    });

    it('say once by mail and once by webhook that the drive may be recorded over, through a worker that is killed', async () => {
      const { service } = studio;
      await service.until('the webhook has been refused once', async () => (clears().length > 0 ? true : null));
      await service.until('the mail has arrived', async () => (clearMails().length > 0 ? true : null));
      const worker = async () => (await service.processes()).find(({ name }) => name === 'worker')?.pid ?? null;
      const killed = await worker();
      process.kill(killed ?? 0, 'SIGKILL');
      isTaking = true;
      await service.until('another worker runs', async () => ((await worker()) ?? killed) !== killed || null, 60_000);
      await service.until(
        'the webhook has taken it',
        async () => clears().some(({ isTaken }) => isTaken) || null,
        60_000,
      );
      await service.until('the other worker is told of', async () => starts().length >= 2 || null, 60_000);
      // And once more everything is begun anew, on what the data folder says.
      await service.stop();
      await service.run();
      await service.until('the start is told', async () => starts().length >= 3 || null, 60_000);
      expect(new Set(clears().map(({ key }) => key)).size).toBe(1);
      expect(clears().filter(({ isTaken }) => isTaken)).toHaveLength(1);
      expect(clears()[0]?.sentence).toMatch(
        /^The drive of wheel \(WHEEL\) is clear: all 2 files .* Look at the verdict/,
      );
      expect(clearMails()).toHaveLength(1);
    });

    it('tell that the drive was seen, once, and that the worker had ended unexpectedly', () => {
      expect(posted.filter(({ type }) => type === 'drive.seen')).toHaveLength(1);
      expect(starts().map(({ sentence }) => sentence)).toEqual([
        'Quayside has started.',
        expect.stringMatching(/^Quayside has started again after it ended unexpectedly/),
        'Quayside has started.',
      ]);
    });

    const clears = (): readonly Posted[] => posted.filter(({ type }) => type === 'roll.clear');
    const starts = (): readonly Posted[] => posted.filter(({ type }) => type === 'service.started');
    const clearMails = (): readonly string[] => mails.filter((raw) => /^Subject: CLEAR: wheel/m.test(raw));
  },
);

function portOf(address: ReturnType<ReturnType<typeof createServer>['address']>): number {
  return typeof address === 'object' && address !== null ? address.port : 0;
}
