import type { FileEntry, Shoot, Volume } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { openWorkplace, VOLUME_KEY, type Workplace } from '../worker.test-support.ts';
import { chooseShoot, shootDay } from './choose-shoot.ts';

const local = (text: string): number => new Date(text).getTime();

it.each([
  ['2026-11-25T18:00:00', '2026-11-25', 'an evening belongs to its own day'],
  ['2026-11-26T01:30:00', '2026-11-25', 'one in the morning belongs to the evening before'],
  ['2026-11-26T03:59:59', '2026-11-25', 'the last second before the boundary too'],
  ['2026-11-26T04:00:00', '2026-11-26', 'at the boundary a new day begins'],
  ['2027-01-01T00:30:00', '2026-12-31', 'over the turn of the year'],
  ['2028-03-01T02:00:00', '2028-02-29', 'over a leap day'],
])('%s is filed under %s: %s', (moment, day) => {
  expect(shootDay(local(moment), '04:00')).toBe(day);
});

it('a boundary at midnight is the calendar day', () => {
  expect(shootDay(local('2026-11-26T00:00:00'), '00:00')).toBe('2026-11-26');
});

const NOW = '2026-11-27T12:00:00.000Z';

/** The shoot that a roll with files of these local times goes to. */
async function shootFor(workplace: Workplace, ...times: readonly string[]): Promise<string> {
  await workplace.plug({});
  const volume = (await workplace.store.volume(VOLUME_KEY)) as Volume;
  const files = times.map((time, index): FileEntry => {
    return { path: `${index}.mov`, sizeInBytes: 1, modifiedMs: local(time) };
  });
  return chooseShoot(workplace, { volume, files, now: NOW });
}

function named(id: string, openedAt: string, closedAt: string | null = null): Shoot {
  return { id, name: id, openedAt, closedAt, named: true };
}

describe('a new roll goes to', () => {
  it('the day of its newest footage, whose shoot is opened and told once', async () => {
    const workplace = await openWorkplace();
    expect(await shootFor(workplace, '2026-11-24T10:00:00', '2026-11-25T18:00:00')).toBe('2026-11-25');
    expect(await shootFor(workplace, '2026-11-25T19:00:00')).toBe('2026-11-25');
    expect(await workplace.store.shoots()).toMatchObject([{ id: '2026-11-25', named: false, closedAt: null }]);
    const told = (await workplace.store.eventsAfter('0', 10)).filter(({ type }) => type === 'shoot.opened');
    expect(told).toMatchObject([{ subject: '2026-11-25', at: NOW }]);
  });

  it('today, where a clock was never set or runs ahead of ours', async () => {
    const workplace = await openWorkplace();
    const today = shootDay(Date.parse(NOW), '04:00');
    expect(await shootFor(workplace, '1980-01-01T00:00:10')).toBe(today);
    expect(await shootFor(workplace, '2031-01-01T10:00:00')).toBe(today);
  });

  it('the named shoot that is open, the one that was opened last where there are two', async () => {
    const workplace = await openWorkplace();
    await workplace.store.saveShoot(named('kiln-day', '2026-11-20T10:00:00.000Z'));
    await workplace.store.saveShoot(named('glazing', '2026-11-21T10:00:00.000Z'));
    await workplace.store.saveShoot(named('throwing', '2026-11-22T10:00:00.000Z', '2026-11-22T18:00:00.000Z'));
    expect(await shootFor(workplace, '2026-11-25T18:00:00')).toBe('glazing');
  });

  it('its day again when every named shoot is closed', async () => {
    const workplace = await openWorkplace();
    await workplace.store.saveShoot(named('throwing', '2026-11-22T10:00:00.000Z', '2026-11-22T18:00:00.000Z'));
    expect(await shootFor(workplace, '2026-11-25T18:00:00')).toBe('2026-11-25');
  });

  it('the shoot that the operator gave its drive, before all others; it is opened when it is not there', async () => {
    const workplace = await openWorkplace();
    await workplace.store.saveShoot(named('glazing', '2026-11-21T10:00:00.000Z'));
    await workplace.store.assign(VOLUME_KEY, { recorder: 'wheel', shootId: 'kiln-day' });
    expect(await shootFor(workplace, '2026-11-25T18:00:00')).toBe('kiln-day');
    expect(await workplace.store.shoot('kiln-day')).toMatchObject({ named: true, openedAt: NOW });
  });

  it('as without a word when the operator named its recorder only', async () => {
    const workplace = await openWorkplace();
    await workplace.store.assign(VOLUME_KEY, { recorder: 'wheel', shootId: null });
    expect(await shootFor(workplace, '2026-11-25T18:00:00')).toBe('2026-11-25');
  });
});
