import type { Store } from './store.ts';
import type { Clip, FileEntry, FileFacts, Roll } from '@quayside/shoot';

/** The clips of a shoot's rolls with their facts: every file that was looked into and is still what the drive holds. */
export async function clipsOfRolls(store: Store, rolls: readonly Roll[]): Promise<readonly Clip[]> {
  const clips: Clip[] = [];
  for (const roll of rolls) {
    for (const file of await currentFacts(store, roll)) {
      clips.push({
        id: `${roll.id}/${file.path}`,
        rollId: roll.id,
        path: file.path,
        recorder: roll.recorder,
        role: roll.role,
        sizeInBytes: file.sizeInBytes,
        modifiedAt: new Date(file.modifiedMs).toISOString(),
        facts: file.facts,
      });
    }
  }
  return clips;
}

/** A roll's facts without those of files that its drive no longer holds as they were. */
export async function currentFacts(store: Store, roll: Roll): Promise<readonly FileFacts[]> {
  const facts = await store.facts(roll.id);
  if (facts.length === 0) return [];
  const listed = new Set((await store.rollFiles(roll)).map(identityOf));
  return facts.filter((file) => listed.has(identityOf(file)));
}

function identityOf({ path, sizeInBytes, modifiedMs }: FileEntry): string {
  return JSON.stringify([path, sizeInBytes, modifiedMs]);
}
