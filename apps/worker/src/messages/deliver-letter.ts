import type { RunHandler, Store } from '@quayside/job-queue';
import type { Delivery, MessageJournal } from '@quayside/message-journal';
import { composeLetter } from '@quayside/messages';
import { failureOf, QuaysideError, type PipelineEvent, type Severity } from '@quayside/shoot';
import { sendLetter } from '@quayside/channel-contract';
import type { ConfiguredChannel } from './channel-book.ts';
import { SecretKeeper } from './secret-keeper.ts';

export interface DeliveryParts {
  readonly journal: MessageJournal;
  readonly store: Pick<Store, 'roll' | 'publish'>;
  /** IANA name of the zone that times are shown in. */
  readonly timeZone: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly log: (sentence: string, about?: object) => void;
}

/**
 * Sends the letters of one channel for its queue. What the journal says was sent is never sent again. Between the moment in
 * which a channel takes a letter and the note of it lies a gap that no order of steps closes: after a crash in it the letter
 * goes out once more, under the same key.
 */
export function letterHandler(parts: DeliveryParts, configured: ConfiguredChannel): RunHandler {
  const { journal, log } = parts;
  const channel = configured.name;
  return {
    async run({ id }, signal) {
      const content = journal.contentOf(id);
      // Settled already, or overtaken by what was told since: then the newer one goes out.
      if (content.length === 0) return journal.settle(id, 'superseded', now());
      await throwIfOutdated(parts, content);
      const secrets = new SecretKeeper(parts.environment);
      const messages = content.map(({ message }) => message);
      const letter = composeLetter({ id, messages, timeZone: parts.timeZone });
      try {
        await sendLetter(
          configured.channel,
          { settings: configured.settings, letter },
          {
            signal,
            onStop: (stop) => (signal.aborted ? stop() : signal.addEventListener('abort', stop, { once: true })),
            secret: (place) => secrets.secret(place),
            environment: harmlessPart(parts.environment),
          },
        );
      } catch (error) {
        // The service stops: that says nothing about the channel.
        if (signal.aborted) throw error;
        const failure = secrets.redact(failureOf(error));
        await journal.noteTry(id, { at: now(), code: failure.code, why: failure.sentence });
        // Without the cause: it may hold what was redacted.
        throw new QuaysideError(failure);
      }
      await journal.settle(id, 'sent', now());
      log(`"${letter.subject}" was sent by ${channel}.`, { channel, letter: id });
      const sentence = `"${letter.subject}" was sent by ${channel}.`;
      // That nobody hears of it must not send it again.
      await publish(parts, { type: 'message.sent', subject: channel, sentence, letter: id }).catch(() => undefined);
    },
    async failed({ id }, failure) {
      const content = journal.contentOf(id);
      if (failure.code === OUTDATED || content.length === 0) return journal.settle(id, 'superseded', now());
      const what = content[0]?.message.sentence ?? '';
      const sentence = `A message could not be sent by ${channel} and is given up: ${failure.sentence} It said: ${what}`;
      log(sentence, { channel, letter: id, code: failure.code });
      const isTest = content.every(({ message }) => message.kind === 'test');
      if (!isTest) await publish(parts, { type: 'message.given-up', subject: channel, sentence, letter: id });
      await journal.settle(id, 'given-up', now());
    },
  };
}

const OUTDATED = 'MESSAGE_OUTDATED';

/** That a drive may be recorded over is told only while it is so: a message that was held up says it hours later. */
async function throwIfOutdated({ store }: DeliveryParts, content: readonly Delivery[]): Promise<void> {
  for (const { message } of content) {
    if (message.kind !== 'roll.clear') continue;
    const roll = await store.roll(message.subject);
    if (roll?.clearance.verdict === 'clear') continue;
    throw new QuaysideError({
      code: OUTDATED,
      sentence: `Roll ${message.subject} is not clear now, so nobody is told that its drive may be recorded over. It is looked at again.`,
      retry: 'later',
    });
  }
}

interface ToPublish {
  readonly type: PipelineEvent['type'];
  readonly subject: string;
  readonly sentence: string;
  readonly letter: string;
}

async function publish({ store }: DeliveryParts, { letter, ...event }: ToPublish): Promise<void> {
  const severity: Severity = event.type === 'message.given-up' ? 'warning' : 'info';
  await store.publish([{ ...event, at: now(), data: { letter, severity } }]);
}

const HARMLESS =
  /^(?:PATH|HOME|USER|LOGNAME|LANG|LC_[A-Z]+|TZ|XDG_RUNTIME_DIR|DBUS_SESSION_BUS_ADDRESS|DISPLAY|WAYLAND_DISPLAY)$/;

/** What programs need that ring, show or speak something; secrets stand in variables of other names. */
function harmlessPart(environment: DeliveryParts['environment']): Readonly<Record<string, string>> {
  const given = Object.entries(environment).flatMap(([name, value]) =>
    HARMLESS.test(name) && value !== undefined ? [[name, value] as const] : [],
  );
  return Object.fromEntries(given);
}

function now(): string {
  return new Date().toISOString();
}
