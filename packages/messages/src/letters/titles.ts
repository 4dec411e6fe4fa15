import type { Message, MessageKind } from '../message.ts';

/** What each kind of message says in a few words, before the sentence says it whole. */
export function titleOf(message: Message): string {
  return TITLES[message.kind](message);
}

const TITLES: Readonly<Record<MessageKind, (message: Message) => string>> = {
  'drive.seen': () => 'A drive is connected',
  'drive.pulled': (message) => `HOLD: ${nameOf(message)} left before it was done`,
  'roll.clear': (message) => `CLEAR: ${nameOf(message)} may be recorded over`,
  'roll.hold': (message) => `HOLD: do not record over ${nameOf(message)}`,
  'roll.finding': (message) => `Look at ${nameOf(message)}`,
  'copy.bad': (message) => `A copy of ${nameOf(message)} failed its verification`,
  'copy.repaired': (message) => `The copy of ${nameOf(message)} is made anew and proven`,
  'take.finding': ({ shootId }) => `A take of ${shootId ?? 'a shoot'} wants a look`,
  'shoot.complete': ({ subject }) => `Shoot ${subject} is complete`,
  'disk.low': ({ subject }) => `Destination ${subject} is nearly full`,
  'disk.roomy': ({ subject }) => `Destination ${subject} has room again`,
  'service.started': () => 'Quayside has started',
  'channel.failed': ({ subject }) => `Messages do not get through to ${subject}`,
  test: () => 'A test of Quayside',
};

function nameOf({ recorder, subject }: Message): string {
  return recorder ?? subject;
}
