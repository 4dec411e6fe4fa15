import { expect, it } from 'vitest';
import { sampleMessage } from '../letters/sample-message.ts';
import type { Message } from '../message.ts';
import { MessageRule } from './message-settings.ts';
import { routeMessage, type Waiting } from './route-message.ts';

const NOW = '2026-03-01T23:00:00.000Z';
const CLEAR = sampleMessage('roll.clear', NOW);
const HOLD = sampleMessage('roll.hold', NOW);
const SEEN = sampleMessage('drive.seen', NOW);

function route(message: Message, rules: readonly object[], waiting: Waiting = {}): readonly string[] {
  const settings = { timeZone: 'UTC', channels: ['hook', 'mail'], rules: rules.map((rule) => MessageRule.parse(rule)) };
  return routeMessage(message, settings, { now: NOW, waiting }).map(
    ({ channel, dueAt }) => `${channel} ${dueAt ?? 'at once'}`,
  );
}

const QUIET = { from: '22:00', to: '07:00' };

it.each([
  ['an empty rule sends all to all, at once', CLEAR, [{}], ['hook at once', 'mail at once']],
  ['no rule sends nothing', CLEAR, [], []],
  ['a rule names its channels', CLEAR, [{ channels: ['mail'] }], ['mail at once']],
  ['a rule names its kinds', CLEAR, [{ kinds: ['roll.hold'] }], []],
  ['what is less grave than the rule asks for stays', CLEAR, [{ severity: 'warning' }], []],
  ['what is as grave or graver goes', HOLD, [{ channels: ['hook'], severity: 'warning' }], ['hook at once']],
  ['a rule for shoots is by pattern', CLEAR, [{ channels: ['hook'], shoots: ['2026-*'] }], ['hook at once']],
  ['of another shoot it stays', CLEAR, [{ shoots: ['2025-*', '*-02'] }], []],
  ['what belongs to no shoot does not go by a rule for shoots', SEEN, [{ shoots: ['*'] }], []],
  [
    'in quiet hours it waits until they end',
    CLEAR,
    [{ channels: ['mail'], quiet: QUIET }],
    ['mail 2026-03-02T07:00:00.000Z'],
  ],
  ['what is critical does not wait', HOLD, [{ channels: ['mail'], quiet: QUIET }], ['mail at once']],
  [
    'unless everything is to wait',
    HOLD,
    [{ channels: ['mail'], quiet: { ...QUIET, unless: 'never' } }],
    ['mail 2026-03-02T07:00:00.000Z'],
  ],
  [
    'a digest gathers for its minutes',
    CLEAR,
    [{ channels: ['mail'], digestMinutes: 10 }],
    ['mail 2026-03-01T23:10:00.000Z'],
  ],
  [
    'of two rules for a channel the sooner counts, once',
    CLEAR,
    [{ channels: ['mail'], digestMinutes: 10 }, { channels: ['mail'] }],
    ['mail at once'],
  ],
] as const)('%s', (...[, message, rules, expected]) => {
  expect(route(message, rules)).toEqual(expected);
});

it('what is gathered goes with what waits already, when that goes sooner and is not over', () => {
  const rules = [{ channels: ['mail'], digestMinutes: 10 }];
  expect(route(CLEAR, rules, { mail: '2026-03-01T23:04:00.000Z' })).toEqual(['mail 2026-03-01T23:04:00.000Z']);
  expect(route(CLEAR, rules, { mail: '2026-03-02T07:00:00.000Z' })).toEqual(['mail 2026-03-01T23:10:00.000Z']);
  expect(route(CLEAR, rules, { mail: '2026-03-01T22:59:00.000Z' })).toEqual(['mail 2026-03-01T23:10:00.000Z']);
});

it('that a channel fails is told on the others only, and a test goes nowhere by rules', () => {
  expect(route({ ...sampleMessage('channel.failed', NOW), subject: 'mail' }, [{}])).toEqual(['hook at once']);
  expect(route(sampleMessage('test', NOW), [{}])).toEqual([]);
});
