import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { join } from 'node:path';
import { type Failure, failureOf, QuaysideError } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { errorCodeOf, fileCalls } from '../direct-io/file-calls.ts';
import { answerInTime } from './answer-in-time.ts';
import { createDestinationFolder } from './create-destination-folder.ts';
import { STAGING_FOLDER } from './destination-folders.ts';
import { destinationFailure } from './destination-failure.ts';
import { readDestinationMarker } from './marker.ts';

/** Why nothing can be written to a destination at this moment, or null: it is there, it is the right one, and it takes a file. */
export async function checkDestination(destination: Destination): Promise<Failure | null> {
  return (await findDestinationAway(destination)) ?? probeWriting(destination);
}

/** Why this root is not the destination at this moment, or null. Writes nothing. */
export async function findDestinationAway(destination: Destination): Promise<Failure | null> {
  try {
    return await answerInTime(destination, () => findAwayNow(destination));
  } catch (error) {
    if (error instanceof QuaysideError) return failureOf(error);
    return missing(destination, errorCodeOf(error) || String(error));
  }
}

async function findAwayNow(destination: Destination): Promise<Failure | null> {
  const { name, root, id } = destination;
  const isFolder = (await fileCalls.stat(root)).isDirectory();
  if (!isFolder) return missing(destination, 'it is not a folder');
  const marker = await readDestinationMarker(root);
  if (marker?.id === id) return null;
  const found = marker === null ? 'no marker is there' : `found ${marker.id}, named ${marker.name}`;
  return {
    code: 'DESTINATION_NOT_MOUNTED',
    sentence: `Destination ${name} is not mounted at ${root} (expected id ${id}, ${found}). Nothing was written. Connect it; do not make the marker by hand.`,
    retry: 'destination',
  };
}

function missing({ name, root }: Destination, why: string): Failure {
  return {
    code: 'DESTINATION_MISSING',
    sentence: `Destination ${name} cannot be found at ${root} (${why}). Nothing was written. Connect it, or correct its path in the configuration.`,
    retry: 'destination',
  };
}

async function probeWriting(destination: Destination): Promise<Failure | null> {
  const folder = join(destination.root, STAGING_FOLDER);
  const probe = join(folder, `probe-${randomUUID()}`);
  try {
    await answerInTime(destination, async () => {
      await createDestinationFolder(destination.root, folder);
      const fd = await fileCalls.open(probe, constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL);
      await fileCalls.close(fd);
      await fileCalls.unlink(probe);
    });
    return null;
  } catch (error) {
    return destinationFailure(error, destination, 'a first trial file');
  }
}
