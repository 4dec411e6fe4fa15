import type { Parcel, Roll, RunRequest } from '@quayside/shoot';
import { isAtRest, takingDestinations } from './activity.ts';
import { matterToTell } from './matter-to-tell.ts';
import { isUnderWay, nextToReread } from './reread.ts';
import { canBeJudged } from './verdict.ts';

/**
 * The runs that a roll's state asks for now. It is a function of the state alone, so that a queue that was lost, or a
 * crash between writing a state and asking for its work, is mended by asking again.
 */
export function wantedRuns(roll: Roll): readonly RunRequest[] {
  if (roll.movingTo !== null) return [move(roll, roll.movingTo)];
  return [
    ...probes(roll),
    ...ingests(roll),
    ...recopies(roll),
    ...readBacks(roll),
    ...seals(roll),
    ...rereads(roll),
    ...judgements(roll),
    ...messages(roll),
  ];
}

/** How long copying waits for a drive's facts, in milliseconds. What is not read by then is read beside the copying. */
const FACTS_FIRST_MS = 5000;

function probes(roll: Roll): readonly RunRequest[] {
  if (roll.mount === null || roll.facts === 'read' || roll.facts === 'placing') return [];
  const withinMs = roll.facts === 'due' ? FACTS_FIRST_MS : null;
  return [
    {
      id: ['probe', roll.id, roll.visit, roll.facts].join('-'),
      step: 'probe',
      subject: roll.id,
      inputs: { rollId: roll.id, visit: roll.visit, withinMs },
    },
  ];
}

/** Its shoot's grouping, which is asked for as soon as the facts are known, ends the waiting, also when it fails. */
function isWaitingForOrder({ facts }: Roll): boolean {
  return facts === 'due' || facts === 'placing';
}

function inOrder({ parcels, order }: Roll): readonly Parcel[] {
  const first = new Set(order);
  return [...first, ...parcels.map(({ index }) => index).filter((index) => !first.has(index))].flatMap(
    (index) => parcels[index] ?? [],
  );
}

/** Files of one volume go in order, so at most one ingest at a time; verification of one overlaps the copy of the next. */
function ingests(roll: Roll): readonly RunRequest[] {
  if (roll.mount === null || isWaitingForOrder(roll)) return [];
  const taking = takingDestinations(roll);
  const wanting = inOrder(roll)
    .map((parcel) => ({ parcel, destinations: taking.filter((name) => isToCopy(parcel, name)) }))
    .filter(({ destinations }) => destinations.length > 0);
  // What has no copy yet goes before what is made anew.
  const next =
    wanting.find(({ parcel, destinations }) => destinations.some((name) => parcel.copies[name]?.repairs === 0)) ??
    wanting[0];
  return next === undefined ? [] : [ingest(roll, next.parcel, next.destinations)];
}

/** While the drive is away, what has a proven copy somewhere is copied from there. */
function recopies(roll: Roll): readonly RunRequest[] {
  if (roll.mount !== null) return [];
  const taking = takingDestinations(roll);
  for (const parcel of inOrder(roll)) {
    const destinations = taking.filter((name) => isToCopy(parcel, name));
    const proven = taking.filter((name) => parcel.copies[name]?.state === 'verified');
    if (destinations.length === 0 || proven.length === 0) continue;
    const attempt = attemptOf(parcel, destinations);
    // Another one each time: one of them may be away.
    const from = proven[attempt % proven.length] ?? '';
    return [
      {
        id: ['recopy', roll.id, roll.visit, parcel.index, attempt, from, ...destinations].join('-'),
        step: 'recopy',
        subject: roll.id,
        inputs: { rollId: roll.id, visit: roll.visit, parcel: parcel.index, from, destinations, attempt },
      },
    ];
  }
  return [];
}

function attemptOf(parcel: Parcel, destinations: readonly string[]): number {
  return Math.max(...destinations.map((name) => parcel.copies[name]?.attempt ?? 0));
}

function ingest(roll: Roll, parcel: Parcel, destinations: readonly string[]): RunRequest {
  const attempt = attemptOf(parcel, destinations);
  return {
    id: ['ingest', roll.id, roll.visit, parcel.index, attempt, ...destinations].join('-'),
    step: 'ingest',
    subject: roll.id,
    inputs: { rollId: roll.id, visit: roll.visit, parcel: parcel.index, destinations: [...destinations], attempt },
  };
}

function readBacks(roll: Roll): readonly RunRequest[] {
  return roll.parcels.flatMap((parcel) =>
    takingDestinations(roll)
      .filter((name) => parcel.copies[name]?.state === 'written')
      .map((destination) => {
        const attempt = parcel.copies[destination]?.attempt ?? 0;
        return {
          id: ['checksum', roll.id, roll.visit, parcel.index, attempt, destination].join('-'),
          step: 'checksum',
          subject: roll.id,
          inputs: { rollId: roll.id, visit: roll.visit, parcel: parcel.index, destination, attempt },
        };
      }),
  );
}

/** What is verified is sealed as soon as its destination has nothing left to do, also when a file of it failed. */
function seals(roll: Roll): readonly RunRequest[] {
  return takingDestinations(roll)
    .filter((name) => {
      const states = roll.parcels.map((parcel) => parcel.copies[name]?.state ?? 'absent');
      const destination = roll.destinations[name];
      return (
        destination?.sealedGeneration === null &&
        destination.failure === null &&
        states.every((state) => state === 'verified' || state === 'failed') &&
        states.includes('verified')
      );
    })
    .map((destination) => {
      const attempt = roll.destinations[destination]?.sealAttempt ?? 0;
      return {
        id: ['seal', roll.id, roll.visit, attempt, destination].join('-'),
        step: 'seal',
        subject: roll.id,
        inputs: { rollId: roll.id, visit: roll.visit, destination, attempt },
      };
    });
}

/** A reading again goes through the parcels one by one; at its end what it found goes on record. */
function rereads(roll: Roll): readonly RunRequest[] {
  return takingDestinations(roll)
    .filter((name) => isUnderWay(roll, name))
    .map((destination) => {
      const since = roll.destinations[destination]?.reread?.since ?? '';
      const parcel = nextToReread(roll, destination);
      const inputs = { rollId: roll.id, visit: roll.visit, destination, since };
      const id = [roll.id, roll.visit, since.replaceAll(/\D/g, '')].join('-');
      return parcel === null
        ? { id: `attest-${id}-${destination}`, step: 'attest', subject: roll.id, inputs }
        : {
            id: `reread-${id}-${parcel.index}-${destination}`,
            step: 'reread',
            subject: roll.id,
            inputs: { ...inputs, parcel: parcel.index },
          };
    });
}

function judgements(roll: Roll): readonly RunRequest[] {
  if (!canBeJudged(roll) || roll.judgementDue === roll.judged || !isAtRest(roll)) return [];
  return [
    {
      id: ['clearance', roll.id, roll.judgementDue].join('-'),
      step: 'clearance',
      subject: roll.id,
      inputs: { rollId: roll.id, due: roll.judgementDue },
    },
  ];
}

function messages(roll: Roll): readonly RunRequest[] {
  const message = matterToTell(roll);
  if (message === null || message.matter === roll.told) return [];
  return [
    {
      id: ['notification', roll.id, message.matter].join('-'),
      step: 'notification',
      subject: roll.id,
      inputs: { rollId: roll.id, ...message },
    },
  ];
}

function move(roll: Roll, toShoot: string): RunRequest {
  return {
    id: ['move', roll.id, toShoot].join('-'),
    step: 'move',
    subject: roll.id,
    inputs: { rollId: roll.id, toShoot },
  };
}

function isToCopy(parcel: Parcel, destination: string): boolean {
  const state = parcel.copies[destination]?.state;
  return state === 'absent' || state === 'writing';
}
