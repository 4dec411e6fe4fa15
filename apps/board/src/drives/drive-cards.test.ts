import { Clearance, RollActivity, VolumeStanding } from '@quayside/shoot';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { howSure } from '../picture/how-sure.ts';
import { driveCards } from './drive-cards.ts';
import type { DriveCard } from './drive-card.ts';
import { CLEAR_ROLL, held, JUDGED_AT, lookAtWheel, PROVEN_PLACE, WHEEL } from './look.test-support.ts';

function onlyCard(look: Parameters<typeof lookAtWheel>[0], isSure = true): DriveCard {
  const cards = driveCards(lookAtWheel(look), isSure);
  expect(cards).toHaveLength(1);
  return cards[0] ?? expect.unreachable();
}

describe('a drive may be recorded over', () => {
  it('when its roll is clear, with what was proven where, and when', () => {
    expect(onlyCard({})).toMatchObject({
      recorder: 'wheel',
      label: 'WHEEL',
      verdict: 'clear',
      word: 'CLEAR',
      answer: 'Yes, you may record over it.',
      proof: '12 files, 8.0 GB, proven at backup and primary',
      judgedAt: JUDGED_AT,
      needsYou: false,
      timeLeft: null,
    });
  });

  it('with the cautions that come with it', () => {
    const clearance = { verdict: 'clear', judgedAt: JUDGED_AT, cautions: ['The copies lie on one device.'] } as const;
    expect(onlyCard({ roll: { clearance: { ...clearance, cautions: [...clearance.cautions] } } }).reasons).toEqual([
      'Caution: The copies lie on one device.',
    ]);
  });

  it.each<[string, Parameters<typeof lookAtWheel>[0]]>([
    ['the roll is on hold', { roll: { clearance: held('IN_PROGRESS', 'Wait.') } }],
    ['the drive has not settled', { volume: { standing: 'settling' } }],
    ['the drive is gone', { volume: { standing: 'gone' } }],
    ['the drive cannot be read', { volume: { standing: 'unreadable', why: 'EIO' } }],
    ['the drive is empty', { volume: { standing: 'empty' } }],
    ['the drive has no roll yet', { volume: { rollId: null } }],
    ['the roll is not that of the drive', { volume: { rollId: 'another' } }],
    ['the roll is that of a volume with another key', { roll: { volume: { ...CLEAR_ROLL.volume, key: 'other' } } }],
    ['the roll does not know its drive', { roll: { drivePresent: false } }],
    ['the verdict is six minutes old', { look: { serviceMs: Date.parse(JUDGED_AT) + 6 * 60_000 } }],
    ['the clock of the service cannot be read', { look: { serviceMs: Number.NaN } }],
  ])('never while %s', (_why, look) => {
    const card = onlyCard(look);
    expect(card.verdict).not.toBe('clear');
    expect(['HOLD', 'NOT KNOWN']).toContain(card.word);
    expect(card.answer).not.toMatch(/yes|may record/i);
    expect(card.proof).toBeNull();
  });

  it.each<
    [string, Parameters<typeof lookAtWheel>[0], { readonly link: Parameters<typeof howSure>[1]; readonly age: number }]
  >([
    ['the connection is lost', {}, { link: { state: 'lost', sentence: 'The service does not answer.' }, age: 1 }],
    ['the picture is eleven seconds old', {}, { link: { state: 'live' }, age: 11_000 }],
    ['the watcher sleeps', { health: { watcher: { alive: false, said: null } } }, { link: { state: 'live' }, age: 1 }],
    ['the worker sleeps', { health: { worker: { alive: false, said: null } } }, { link: { state: 'live' }, age: 1 }],
    ['Redis is away', { health: { redis: 'away' } }, { link: { state: 'live' }, age: 1 }],
  ])('is not known while %s, and no earlier verdict shines through', (_why, change, { link, age }) => {
    const look = lookAtWheel(change);
    const { isSure, why } = howSure(look, link, { wall: age, steady: age });
    expect(isSure).toBe(false);
    expect(why).toMatch(/\.$/);
    const [card] = driveCards(look, isSure);
    expect(card).toMatchObject({ word: 'NOT KNOWN', answer: 'Not known now. Do not record over it.', proof: null });
    expect(JSON.stringify(card)).not.toMatch(/clear|\byes\b/i);
  });

  it('in no other state that the service can tell', () => {
    fc.assert(
      fc.property(
        fc.record({
          standing: fc.constantFrom(...VolumeStanding.options),
          activity: fc.constantFrom(...RollActivity.options),
          clearance: fc.constantFrom(CLEAR_ROLL.clearance, held('VOLUME_AWAY', 'Connect it.')),
          drivePresent: fc.boolean(),
          isSure: fc.boolean(),
          rollId: fc.constantFrom('wheel-1', 'another', null),
          verdictAge: fc.integer({ min: -60, max: 900 }),
        }),
        ({ standing, activity, clearance, drivePresent, isSure, rollId, verdictAge }) => {
          const look = lookAtWheel({
            volume: { standing, rollId },
            roll: { activity, clearance, drivePresent },
            look: { serviceMs: Date.parse(JUDGED_AT) + verdictAge * 1000 },
          });
          const mayBe =
            isSure &&
            standing === 'settled' &&
            clearance.verdict === 'clear' &&
            drivePresent &&
            rollId === 'wheel-1' &&
            verdictAge <= 300;
          for (const card of driveCards(look, isSure)) {
            expect(card.word === 'CLEAR').toBe(card.verdict === 'clear');
            expect(/\byes\b/i.test(card.answer)).toBe(card.verdict === 'clear');
            if (card.verdict === 'clear') expect(mayBe).toBe(true);
          }
        },
      ),
    );
  });
});

describe('a drive on hold', () => {
  it('tells what is being done, how far it is and how long it takes', () => {
    const roll = {
      activity: 'copying',
      clearance: held('IN_PROGRESS', 'The footage is still being copied and proven; wait for the verdict.'),
      progress: { totalBytes: 100, fraction: 0.52, bytesPerSecond: 10, secondsLeft: 180 },
    } as const;
    expect(onlyCard({ roll })).toMatchObject({
      word: 'HOLD',
      answer: 'No, not yet.',
      work: 'copying',
      fraction: 0.52,
      timeLeft: 'about 3 min left',
      needsYou: false,
    });
  });

  it('never shows its work as whole', () => {
    const progress = { totalBytes: 100, fraction: 1, bytesPerSecond: 0, secondsLeft: null };
    const card = onlyCard({ roll: { activity: 'judging', clearance: held('IN_PROGRESS', 'Wait.'), progress } });
    expect(card.fraction).toBe(0.99);
  });

  it('says that it needs a person when nothing goes on by itself', () => {
    const roll = { clearance: held('TOO_FEW_COPIES', 'One device has a proven copy; two are wanted.') };
    expect(onlyCard({ roll })).toMatchObject({ needsYou: true, answer: 'No. It needs you.' });
    expect(onlyCard({ volume: { standing: 'unreadable', why: 'EIO' } })).toMatchObject({
      needsYou: true,
      reasons: ['It cannot be read (EIO). Check the drive and its cable.'],
    });
  });

  it('that left before it was proven is listed, and asks to be connected', () => {
    const roll = {
      drivePresent: false,
      activity: 'interrupted',
      clearance: held('VOLUME_AWAY', 'The drive left before its footage was proven. Connect it again.'),
      destinations: { primary: { ...PROVEN_PLACE, verifiedFiles: 3, sealedGeneration: null } },
    } as const;
    const look = { ...lookAtWheel({ roll }), connected: [] };
    expect(driveCards(look, true)).toMatchObject([
      { recorder: 'wheel', word: 'HOLD', answer: 'No. It left too early.', work: 'interrupted', needsYou: true },
    ]);
    expect(driveCards(look, false)).toMatchObject([{ word: 'NOT KNOWN', reasons: [] }]);
  });
});

describe('a drive that left proven', () => {
  const left = { ...CLEAR_ROLL, drivePresent: false };

  it('is neither a yes nor a no: what was recorded on it since is not proven', () => {
    const [card] = driveCards({ ...lookAtWheel(), connected: [], rolls: [left] }, true);
    expect(card).toMatchObject({ verdict: 'away', word: 'AWAY', answer: 'Not connected.', proof: null });
    expect(card?.reasons.join()).toContain('recorded on it since');
  });

  it('is not listed beside another drive of its recorder, nor after a day', () => {
    const other = { ...WHEEL, key: 'exfat-9f9f', rollId: null };
    expect(driveCards({ ...lookAtWheel(), connected: [other], rolls: [left] }, true).map(({ key }) => key)).toEqual([
      'exfat-9f9f',
    ]);
    const later = Date.parse(JUDGED_AT) + 25 * 60 * 60_000;
    expect(driveCards({ ...lookAtWheel(), connected: [], rolls: [left], serviceMs: later }, true)).toEqual([]);
  });
});

it('drives stand by their recorder, and those that nobody claimed are left out', () => {
  const desk = { ...WHEEL, key: 'ext4-d', recorder: 'desk', rollId: null };
  const stray = { ...WHEEL, key: 'ext4-s', recorder: null, rollId: null };
  const cards = driveCards({ ...lookAtWheel(), connected: [stray, WHEEL, desk] }, true);
  expect(cards.map(({ recorder }) => recorder)).toEqual(['desk', 'wheel']);
});

it('the service knows no third verdict that this page would have to tell', () => {
  expect(Clearance.options.map((option) => option.shape.verdict.value)).toEqual(['clear', 'hold']);
});
