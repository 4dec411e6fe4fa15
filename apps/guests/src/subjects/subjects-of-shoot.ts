import { join } from 'node:path';
import { clipsOfRolls, type Store } from '@quayside/job-queue';
import { activityOf, factsState, planState, provenAt, recordsState, type GuestSubject } from '@quayside/pipeline';
import { rollFolder, type BuiltInStep, type Clip, type Roll, type Shoot, type StepSubject } from '@quayside/shoot';
import { digestOf } from '../plugins/load-plugins.ts';
import { groupsForGuests } from './groups-for-guests.ts';
import type { KnownRolls } from './known-rolls.ts';

/** A subject with all that a run on it needs. */
export interface KnownSubject {
  readonly subject: GuestSubject;
  readonly facts: StepSubject;
  /** Paths of verified copies by clip, and of rolls' folders by roll. */
  readonly clipPaths: Readonly<Record<string, string>>;
  readonly rollFolders: Readonly<Record<string, string>>;
  /** Where what a run leaves is filed. */
  readonly destination: { readonly name: string; readonly root: string };
}

/** A roll that is proven at a destination that is there, with its clips. */
export interface ProvenRoll {
  readonly roll: Roll;
  readonly destination: { readonly name: string; readonly root: string };
  readonly folder: string;
  readonly clips: readonly { readonly clip: Clip; readonly path: string; readonly digests: unknown }[];
}

/** What guests' steps can run on in a shoot, and what they cannot run on yet. */
export interface SubjectsOfShoot {
  readonly subjects: readonly KnownSubject[];
  /** The rolls that are proven nowhere, or at no destination that is there. */
  readonly unproven: readonly Roll[];
  /** While drives are still being taken in there is no subject for the shoot: it would be gone through again after each. */
  readonly isGrowing: boolean;
}

export interface SubjectParts {
  readonly store: Store;
  /** Roots of the destinations that are there, by name. */
  readonly destinations: ReadonlyMap<string, string>;
  /** Of this shoot. */
  readonly known: KnownRolls;
}

/** What guests' steps can run on in a shoot: only what is proven and sealed at a destination that is there. */
export async function subjectsOfShoot(
  shoot: Shoot,
  rolls: readonly Roll[],
  { store, destinations, known: knownRolls }: SubjectParts,
): Promise<SubjectsOfShoot> {
  const progress = await store.shootProgress(shoot.id);
  const proven: ProvenRoll[] = [];
  for (const roll of rolls) {
    const [name] = provenAt(roll).filter((one) => destinations.has(one));
    const root = name === undefined ? undefined : destinations.get(name);
    if (name === undefined || root === undefined) continue;
    const destination = { name, root };
    proven.push(await knownRolls.proven(roll, destination, () => provenRoll(store, roll, destination)));
  }
  knownRolls.keepOnly(new Set(proven.map(({ roll }) => roll.id)));
  const isGrouped = progress.grouped === factsState(rolls);
  const isPlanned = progress.planning === null || progress.planned === planState(progress);
  const isRecorded = progress.recorded === recordsState(rolls, progress);
  const doneFor = (some: readonly Roll[]): ReadonlySet<BuiltInStep> =>
    new Set<BuiltInStep>([
      'seal',
      ...(some.every(({ facts }) => facts === 'read') ? ['probe' as const] : []),
      ...(some.every((roll) => roll.judged >= roll.judgementDue) ? ['clearance' as const] : []),
      ...(isGrouped ? ['sync-grouping' as const] : []),
      ...(isPlanned ? ['proxy-planning' as const] : []),
      ...(isRecorded ? ['records' as const] : []),
    ]);
  const subjects = proven.flatMap((one) => {
    const done = doneFor([one.roll]);
    return knownRolls.subjects(one.roll, JSON.stringify([shoot.name, ...done]), () => subjectsOfRoll(shoot, one, done));
  });
  const isProven = new Set(proven.map(({ roll }) => roll.id));
  const unproven = rolls.filter(({ id }) => !isProven.has(id));
  const isGrowing = rolls.some((roll) => !['resting', 'interrupted'].includes(activityOf(roll)));
  if (proven.length === 0 || isGrowing) return { subjects, unproven, isGrowing };
  const grouping = await store.grouping(shoot.id);
  const facts: StepSubject = {
    kind: 'shoot',
    shoot: { id: shoot.id, name: shoot.name },
    rolls: proven.map(({ roll }) => rollFacts(roll)),
    clips: proven.flatMap(({ clips }) => clips.map(({ clip }) => clip)),
    groups: groupsForGuests(grouping?.groups ?? []),
  };
  return { subjects: [...subjects, known(facts, { parts: proven, done: doneFor(rolls) })], unproven, isGrowing };
}

async function provenRoll(store: Store, roll: Roll, destination: ProvenRoll['destination']): Promise<ProvenRoll> {
  const folder = join(destination.root, rollFolder(roll));
  const copies = (await store.copies(roll.id))[destination.name] ?? {};
  const clips = (await clipsOfRolls(store, [roll])).flatMap((clip) => {
    const copy = copies[clip.path];
    // A path that is not text cannot be given to a guest as one.
    if (copy?.state !== 'verified' || !copy.storedPath.isWellFormed() || !clip.path.isWellFormed()) return [];
    return [{ clip, path: join(folder, copy.storedPath), digests: copy.digests }];
  });
  return { roll, destination, folder, clips };
}

function subjectsOfRoll(shoot: Shoot, one: ProvenRoll, done: ReadonlySet<BuiltInStep>): readonly KnownSubject[] {
  const about = { shoot: { id: shoot.id, name: shoot.name }, roll: rollFacts(one.roll) };
  return [
    known({ kind: 'roll', ...about, clips: one.clips.map(({ clip }) => clip) }, { parts: [one], done }),
    ...one.clips.map((part) =>
      known({ kind: 'clip', ...about, clip: part.clip }, { parts: [{ ...one, clips: [part] }], done }),
    ),
  ];
}

function known(
  facts: StepSubject,
  { parts, done }: { readonly parts: readonly ProvenRoll[]; readonly done: ReadonlySet<BuiltInStep> },
): KnownSubject {
  const clips = parts.flatMap((part) => part.clips);
  const [first] = parts;
  const id = facts.kind === 'clip' ? facts.clip.id : facts.kind === 'roll' ? facts.roll.id : facts.shoot.id;
  return {
    subject: {
      kind: facts.kind,
      id,
      rollId: facts.kind === 'shoot' ? null : facts.roll.id,
      state: digestOf([facts, clips.map(({ clip, digests }) => [clip.id, digests])]),
      done,
    },
    facts,
    clipPaths: Object.fromEntries(clips.map(({ clip, path }) => [clip.id, path])),
    rollFolders: Object.fromEntries(parts.map(({ roll, folder }) => [roll.id, folder])),
    destination: first?.destination ?? { name: '', root: '' },
  };
}

function rollFacts({
  id,
  recorder,
  role,
  fileCount,
  sizeInBytes,
}: Roll): Extract<StepSubject, { kind: 'roll' }>['roll'] {
  return { id, recorder, role, fileCount, sizeInBytes };
}
