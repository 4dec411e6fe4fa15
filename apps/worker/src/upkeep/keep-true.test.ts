import { setTimeout as wait } from 'node:timers/promises';
import { advance, type RollEvent } from '@quayside/pipeline';
import type { Roll } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { takeIn } from '../intake/take-in.ts';
import { makeWay } from '../runs/make-way.ts';
import { mountAt, openWorkplace, VOLUME_KEY, type Workplace } from '../worker.test-support.ts';
import { TruthKeeper } from './keep-true.ts';

const SEALED_AT = '2026-11-25T10:00:00.000Z';
const DAY_MS = 86_400_000;
const daysLater = (days: number): number => Date.parse(SEALED_AT) + days * DAY_MS;

/** A roll that is clear at both destinations, its drive gone. */
async function keptRoll(place: Workplace): Promise<string> {
  const fingerprint = await place.plug({ 'CLIPS/a.mov': 'first take' });
  const id = (await takeIn(place, VOLUME_KEY, fingerprint)) ?? '';
  const names = ['primary', 'backup'] as const;
  await change(place, id, [
    { type: 'factsRead', visit: 1, isComplete: true, findings: [] },
    { type: 'ordered', visit: 1, order: [] },
    { type: 'parcelCopied', visit: 1, parcel: 0, outcome: { primary: null, backup: null }, findings: [] },
    ...names.map((destination): RollEvent => {
      return { type: 'parcelReadBack', visit: 1, parcel: 0, destination, failure: null, findings: [] };
    }),
    ...names.map((destination): RollEvent => {
      return { type: 'sealed', visit: 1, destination, attempt: 0, generation: 1, readBackAt: SEALED_AT };
    }),
    { type: 'volumeLeft' },
  ]);
  await place.store.markWhole();
  return id;
}

async function change({ store }: Workplace, id: string, events: readonly RollEvent[]): Promise<void> {
  for (const event of events) {
    await store.changeRoll(id, (roll) => advance(roll, event, SEALED_AT));
  }
}

function keeperOf(place: Workplace): TruthKeeper {
  return new TruthKeeper({ ...place, log: () => undefined });
}

function underWay(roll: Roll | null): readonly string[] {
  return Object.entries(roll?.destinations ?? {}).flatMap(([name, { reread }]) =>
    reread !== null && reread.endedAt === null ? [name] : [],
  );
}

async function end(place: Workplace, id: string, readAt: number): Promise<void> {
  const roll = await place.store.roll(id);
  for (const destination of underWay(roll)) {
    const since = roll?.destinations[destination]?.reread?.since ?? '';
    const about = { visit: 1, destination, since };
    const readBackAt = new Date(readAt).toISOString();
    await change(place, id, [
      { type: 'parcelReread', ...about, parcel: 0, badFiles: 0, failure: null, findings: [] },
      { type: 'rereadRecorded', ...about, generation: 2, readBackAt },
    ]);
  }
}

describe('what is kept', () => {
  it('is read again by itself when its time has come, at one destination at a time', async () => {
    const place = await openWorkplace();
    const id = await keptRoll(place);
    const keeper = keeperOf(place);
    await keeper.look(daysLater(1));
    expect(underWay(await place.store.roll(id))).toEqual([]);
    // Half of all the bytes there are: after half of the 27 days that a pass of 30 is planned for.
    await keeper.look(daysLater(13.6));
    expect(underWay(await place.store.roll(id))).toEqual(['backup']);
    await keeper.look(daysLater(40));
    expect(underWay(await place.store.roll(id))).toEqual(['backup']);
    await end(place, id, daysLater(13.6));
    await keeper.look(daysLater(27));
    expect(underWay(await place.store.roll(id))).toEqual(['primary']);
  });

  it('is read again in a worker that was started anew as if it had not been', async () => {
    const place = await openWorkplace();
    const id = await keptRoll(place);
    await keeperOf(place).look(daysLater(14));
    await end(place, id, daysLater(14));
    await keeperOf(place).look(daysLater(15));
    expect(underWay(await place.store.roll(id))).toEqual([]);
  });

  it('is read again also when it was proven, and last looked for, while the clock was years ahead', async () => {
    const place = await openWorkplace();
    const id = await keptRoll(place);
    const keeper = keeperOf(place);
    // Two years before it was proven, as the clock has it now.
    await keeper.look(daysLater(1));
    await keeper.look(daysLater(-700));
    expect(underWay(await place.store.roll(id))).toHaveLength(1);
  });

  it('is read at once when a person asks, also when the clock was ahead when it was proven', async () => {
    const place = await openWorkplace();
    const id = await keptRoll(place);
    await place.store.wishReread({ kind: 'destination', id: 'backup', since: new Date(daysLater(-9)).toISOString() });
    await keeperOf(place).look(daysLater(-9));
    expect(underWay(await place.store.roll(id))).toEqual(['backup']);
  });

  it('is read at once when a person asks, and nothing more is wanted when all has been read', async () => {
    const place = await openWorkplace();
    const id = await keptRoll(place);
    const wish = { kind: 'destination', id: 'primary', since: new Date(daysLater(1)).toISOString() } as const;
    expect(await place.store.wishReread(wish)).toEqual(wish);
    // Asked for twice is asked for once.
    expect(await place.store.wishReread({ ...wish, since: new Date(daysLater(2)).toISOString() })).toEqual(wish);
    const keeper = keeperOf(place);
    expect(await keeper.look(daysLater(1))).toBe(true);
    expect(underWay(await place.store.roll(id))).toEqual(['primary']);
    await end(place, id, daysLater(1));
    expect(await keeper.look(daysLater(1))).toBe(false);
    expect(await place.store.rereadWishes()).toEqual([]);
  });

  it('waits while a drive is being taken in, also when a person has asked', async () => {
    const place = await openWorkplace();
    const id = await keptRoll(place);
    await place.store.wishReread({ kind: 'destination', id: 'primary', since: new Date(daysLater(1)).toISOString() });
    const kept = await place.store.roll(id);
    if (kept === null) throw new Error('it was taken in');
    const other = 'hands-20261125-fedcba';
    const parcels = kept.parcels.map((parcel) => ({ ...parcel, copies: {} }));
    const destinations = Object.fromEntries(
      Object.entries(kept.destinations).map(([name, at]) => [name, { ...at, sealedGeneration: null }]),
    );
    const mount = mountAt(place.drive, '42');
    await place.store.changeRoll(other, () => ({ ...kept, id: other, parcels, destinations, mount }));
    const keeper = keeperOf(place);
    expect(await keeper.look(daysLater(60))).toBe(true);
    expect(underWay(await place.store.roll(id))).toEqual([]);
    await change(place, other, [{ type: 'volumeLeft' }]);
    await keeper.look(daysLater(60));
    expect(underWay(await place.store.roll(id))).toEqual(['primary']);
  });
});

describe('work that makes way', () => {
  it('is not begun while a drive is being taken in', async () => {
    const place = await openWorkplace();
    await takeIn(place, VOLUME_KEY, await place.plug({ 'CLIPS/a.mov': 'first take' }));
    let isBegun = false;
    await makeWay(place.store, new AbortController().signal, async () => {
      isBegun = true;
    });
    expect(isBegun).toBe(false);
  });

  it('is broken off when a drive comes, which is no failure', async () => {
    const place = await openWorkplace();
    await keptRoll(place);
    let wasBrokenOff = false;
    await makeWay(place.store, new AbortController().signal, async (signal) => {
      const fingerprint = await place.plug({ 'CLIPS/b.mov': 'another take' }, { mount: mountAt(place.drive, '42') });
      await takeIn(place, VOLUME_KEY, fingerprint);
      while (!signal.aborted) await wait(20);
      wasBrokenOff = true;
      signal.throwIfAborted();
    });
    expect(wasBrokenOff).toBe(true);
  });

  it('that fails by itself, or is stopped with its worker, fails', async () => {
    const place = await openWorkplace();
    const failing = makeWay(place.store, new AbortController().signal, async () => {
      throw new Error('a fault of its own');
    });
    await expect(failing).rejects.toThrow('a fault of its own');
    const stop = new AbortController();
    const stopped = makeWay(place.store, stop.signal, async (signal) => {
      stop.abort(new Error('the worker stops'));
      signal.throwIfAborted();
    });
    await expect(stopped).rejects.toThrow('the worker stops');
  });
});
