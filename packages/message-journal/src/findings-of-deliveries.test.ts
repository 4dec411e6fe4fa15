import { sampleMessage } from '@quayside/messages';
import { expect, it } from 'vitest';
import type { Delivery } from './delivery.ts';
import { findingsOfDeliveries } from './findings-of-deliveries.ts';

const at = (minute: number): string => `2026-03-01T10:${String(minute).padStart(2, '0')}:00.000Z`;

function delivery(minute: number, state: Delivery['state'], change: Partial<Delivery> = {}): Delivery {
  return {
    id: `msg-${minute}`,
    channel: 'mail',
    letter: `msg-${minute}`,
    thread: `roll/${minute}`,
    number: 1,
    message: sampleMessage('roll.clear', at(0)),
    state,
    dueAt: null,
    tries: 16,
    failure: { code: 'CHANNEL_UNREACHABLE', sentence: 'Nobody answers at mail.example.', at: at(minute) },
    settledAt: at(minute),
    ...change,
  };
}

it('says of a channel what it gave up since it last sent, in one finding, as grave as the gravest', () => {
  const hold = { message: sampleMessage('roll.hold', at(0)) };
  const [finding, ...others] = findingsOfDeliveries(
    [delivery(1, 'given-up'), delivery(2, 'sent'), delivery(3, 'given-up', hold), delivery(4, 'given-up')],
    ['mail', 'bell'],
  );
  expect(others).toEqual([]);
  expect(finding).toMatchObject({
    code: 'MESSAGE_GIVEN_UP',
    severity: 'critical',
    subject: { kind: 'service', id: `channel mail, since ${at(3)}` },
    at: at(4),
  });
  expect(finding?.why).toMatch(/^2 messages, .* given up: Nobody answers at mail\.example\.$/);
});

it('is silent once the channel has sent again, of tests, and of channels that are no more', () => {
  const test = { message: sampleMessage('test', at(0)) };
  expect(findingsOfDeliveries([delivery(1, 'given-up'), delivery(2, 'sent', test)], ['mail'])).toEqual([]);
  expect(findingsOfDeliveries([delivery(1, 'given-up', test)], ['mail'])).toEqual([]);
  expect(findingsOfDeliveries([delivery(1, 'given-up')], ['bell'])).toEqual([]);
  expect(findingsOfDeliveries([delivery(1, 'due')], ['mail'])).toEqual([]);
});
