import type { Instant, Parcel, Reread, Roll, RollDestination } from '@quayside/shoot';
import { changeCopies } from './change-copies.ts';
import { takeBack } from './repair.ts';
import type { RollEvent } from './roll-event.ts';

type Event<Type extends RollEvent['type']> = Extract<RollEvent, { type: Type }>;

/** Begins to read everything again that a roll has at some destinations, where there is something to read and nobody does it already. */
export function beginReread(roll: Roll, { destinations, since }: Event<'rereadRequested'>): Roll {
  const begun = destinations.filter((name) => canBeReread(roll, name) && !isUnderWay(roll, name));
  const reread: Reread = { since, next: 0, badFiles: 0, endedAt: null, generation: null, failure: null };
  return begun.reduce((state, name) => changeReread(state, name, { reread }), roll);
}

/** Whether a roll is whole at a destination: sealed, and not on its way elsewhere. */
export function canBeReread({ destinations, movingTo }: Roll, name: string): boolean {
  const at = destinations[name];
  return movingTo === null && at?.standing === 'taking' && at.sealedGeneration !== null;
}

/** Whether every copy of a roll is proven and sealed at a destination. */
export function isWholeAt(roll: Roll, name: string): boolean {
  return canBeReread(roll, name) && roll.parcels.every(({ copies }) => copies[name]?.state === 'verified');
}

export function isUnderWay({ destinations }: Roll, name: string): boolean {
  const reread = destinations[name]?.reread ?? null;
  return reread !== null && reread.endedAt === null;
}

/**
 * The parcel that a reading again comes to next, or null at its end. What is not proven now is passed over: it is made anew and
 * read back anyway.
 */
export function nextToReread({ parcels, destinations }: Roll, name: string): Parcel | null {
  const next = destinations[name]?.reread?.next ?? 0;
  return parcels.find(({ index, copies }) => index >= next && copies[name]?.state === 'verified') ?? null;
}

/** A copy that was found bad no longer counts, and is made anew at once; the reading goes on behind it. */
export function noteParcelReread(roll: Roll, event: Event<'parcelReread'>, now: Instant): Roll {
  const { destination, parcel, badFiles, failure } = event;
  const reread = pendingReread(roll, event);
  if (reread === null || parcel < reread.next) return roll;
  const gone = { ...reread, next: parcel + 1, badFiles: reread.badFiles + badFiles };
  const noted = changeReread(roll, destination, { reread: gone });
  if (failure === null) return noted;
  return takeBack(allowRepairs(noted, parcel, destination), { parcel, destination, failure }, now);
}

export function endReread(roll: Roll, event: Event<'rereadRecorded'>, now: Instant): Roll {
  const reread = pendingReread(roll, event);
  if (reread === null) return roll;
  const { destination, generation, readBackAt } = event;
  return changeReread(roll, destination, { reread: { ...reread, endedAt: now, generation }, readBackAt });
}

export function giveUpReread(roll: Roll, event: Event<'rereadFailed'>, now: Instant): Roll {
  const reread = pendingReread(roll, event);
  if (reread === null) return roll;
  const { destination, failure } = event;
  return changeReread(roll, destination, { reread: { ...reread, endedAt: now, failure } });
}

/** The one that an event is about, while it is under way. */
function pendingReread(
  roll: Roll,
  { destination, since }: { readonly destination: string; readonly since: Instant },
): Reread | null {
  const reread = roll.destinations[destination]?.reread ?? null;
  return reread === null || reread.endedAt !== null || reread.since !== since ? null : reread;
}

function changeReread(roll: Roll, destination: string, change: Partial<RollDestination>): Roll {
  const at = roll.destinations[destination];
  if (at === undefined) return roll;
  return { ...roll, destinations: { ...roll.destinations, [destination]: { ...at, ...change } } };
}

/** What was made anew long ago says nothing about a copy that has been proven since. */
function allowRepairs(roll: Roll, parcel: number, destination: string): Roll {
  return changeCopies(roll, parcel, (copy, name) => (name === destination ? { ...copy, repairs: 0 } : copy));
}
