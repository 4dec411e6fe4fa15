import type { EventType, Severity, StreamedEvent } from '@quayside/shoot';
import type { MessageKind, Telling } from '../message.ts';

/**
 * What an event of the service is worth telling people, or null. Verdicts are not told from here: they come from the roll's
 * own state, which is no event's to lose.
 */
export function tellingOfEvent(event: StreamedEvent): Telling | null {
  return TELLINGS[event.type]?.(event) ?? null;
}

/** Kinds of events that stand in no line here are worth no message. */
const TELLINGS: Partial<Record<EventType, (event: StreamedEvent) => Telling | null>> = {
  'volume.seen': (event) => about(event, 'drive.seen', { thread: `drive/${event.subject}`, matter: 'seen' }),
  'volume.gone': ({ subject }) => ({ thread: `drive/${subject}`, matter: 'gone', message: null, from: 'seen' }),
  'roll.resumed': ({ subject }) => ({ thread: `roll/${subject}`, matter: 'resumed', message: null, from: 'away' }),
  'copy.bad': (event) => about(event, 'copy.bad', { thread: copiesOf(event), matter: 'bad' }),
  'copy.repaired': (event) => about(event, 'copy.repaired', { thread: copiesOf(event), matter: 'repaired' }),
  'finding.raised': finding,
  'shoot.complete': (event) =>
    about(event, 'shoot.complete', { thread: `shoot/${event.subject}`, matter: `complete-${text(event, 'rolls')}` }),
  'destination.low': (event) => about(event, 'disk.low', { thread: `disk/${event.subject}`, matter: 'low' }),
  'destination.roomy': (event) => about(event, 'disk.roomy', { thread: `disk/${event.subject}`, matter: 'roomy' }),
  'service.started': (event) => about(event, 'service.started', { thread: 'service', matter: event.id }),
  'message.given-up': (event) =>
    about(event, 'channel.failed', { thread: `channel/${event.subject}`, matter: 'failed' }),
  'message.sent': ({ subject }) => ({ thread: `channel/${subject}`, matter: 'sent', message: null, from: 'failed' }),
};

/** Failed verifications are told once for a roll and a destination, as `copy.bad`, not once for each file. */
const VERIFICATIONS: ReadonlySet<string> = new Set([
  'CHECKSUM_MISMATCH',
  'COPY_DAMAGED',
  'COPY_MISSING',
  'COPY_UNREADABLE',
]);

function finding(event: StreamedEvent): Telling | null {
  const [code, roll, shoot] = [text(event, 'code'), text(event, 'roll'), text(event, 'shoot')];
  // A finding that only informs is in the list of findings; it is worth nobody's pause.
  if (severityOf(event) === 'info' || VERIFICATIONS.has(code)) return null;
  if (roll === '' && shoot !== '') {
    const thread = `finding/${shoot}/${code}/${text(event, 'about') || event.sentence}`;
    return about(event, 'take.finding', { thread, matter: 'raised' });
  }
  // Once for a roll and a code: a hundred files with one trouble are one matter.
  const thread = `finding/${roll === '' ? event.subject : roll}/${code}`;
  return about(event, 'roll.finding', { thread, matter: 'raised' });
}

function about(
  event: StreamedEvent,
  kind: MessageKind,
  { thread, matter }: { readonly thread: string; readonly matter: string },
): Telling {
  const shoot = text(event, 'shoot');
  const recorder = text(event, 'recorder');
  return {
    thread,
    matter,
    message: {
      kind,
      severity: severityOf(event),
      subject: event.subject,
      shootId: shoot === '' ? null : shoot,
      recorder: recorder === '' ? null : recorder,
      sentence: event.sentence,
      at: event.at,
    },
  };
}

function copiesOf(event: StreamedEvent): string {
  return `copies/${event.subject}/${text(event, 'destination')}`;
}

function severityOf(event: StreamedEvent): Severity {
  const severity = text(event, 'severity');
  return severity === 'critical' || severity === 'warning' ? severity : 'info';
}

function text({ data }: StreamedEvent, name: string): string {
  const value = data?.[name];
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}
