import type { Finding, Severity } from '@quayside/shoot';
import type { Delivery } from './delivery.ts';

/** What was given up by one channel since it last sent anything. */
export interface GivenUpFinding extends Finding {
  readonly channel: string;
  /** The shoots that the messages were about; null stands for none. */
  readonly shootIds: ReadonlySet<string | null>;
}

/**
 * A finding for each of the channels that has given a message up and sent none since: what it had to say has not been heard there. It
 * follows from the record alone, so nothing has to be told for it, on this channel or another. Tests do not count.
 */
export function findingsOfDeliveries(
  deliveries: readonly Delivery[],
  channels: readonly string[],
): readonly GivenUpFinding[] {
  return channels.flatMap((channel) => {
    const own = deliveries.filter((delivery) => delivery.channel === channel);
    const lastSent = own.reduce((last, { state, settledAt }) => (state === 'sent' ? later(last, settledAt) : last), '');
    const givenUp = own
      .filter(
        ({ state, message, settledAt }) =>
          state === 'given-up' && message.kind !== 'test' && (settledAt ?? '') > lastSent,
      )
      .toSorted((one, other) => compare(one.settledAt ?? '', other.settledAt ?? ''));
    return givenUp.length === 0 ? [] : [findingOf(channel, givenUp)];
  });
}

function findingOf(channel: string, givenUp: readonly Delivery[]): GivenUpFinding {
  const [first, last] = [givenUp[0], givenUp.at(-1)];
  const told = `"${last?.message.sentence ?? ''}"`;
  const what = givenUp.length === 1 ? `The message ${told}` : `${givenUp.length} messages, the last of them ${told},`;
  return {
    code: 'MESSAGE_GIVEN_UP',
    severity: gravest(givenUp),
    // Another time is another matter: that somebody has seen this one says nothing of it.
    subject: { kind: 'service', id: `channel ${channel}, since ${first?.settledAt ?? ''}` },
    why: `${what} could not be sent by ${channel} and ${givenUp.length === 1 ? 'is' : 'are'} given up: ${last?.failure?.sentence ?? 'it was never tried.'}`,
    remedy: `Read what was not told with \`quayside messages list --channel ${channel} --state given-up\`, see to the channel, and try it with \`quayside messages test ${channel}\`.`,
    at: last?.settledAt ?? '',
    channel,
    shootIds: new Set(givenUp.map(({ message }) => message.shootId)),
  };
}

/** That nobody was told is never a mere note. */
function gravest(givenUp: readonly Delivery[]): Severity {
  return givenUp.some(({ message }) => message.severity === 'critical') ? 'critical' : 'warning';
}

function later(one: string, other: string | null): string {
  return other !== null && other > one ? other : one;
}

function compare(one: string, other: string): number {
  return one < other ? -1 : 1;
}
