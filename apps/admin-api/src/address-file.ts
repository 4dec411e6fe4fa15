import { rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** Tells the command where the API listens: the port may have been chosen by the system. Written whole or not at all. */
export async function writeAddress(dataFolder: string, url: string): Promise<void> {
  const file = join(dataFolder, 'api-address');
  const staged = `${file}.${process.pid}.new`;
  await writeFile(staged, `${url}\n`, { mode: 0o600 });
  await rename(staged, file);
}

/** Takes the address back. */
export async function removeAddress(dataFolder: string): Promise<void> {
  await rm(join(dataFolder, 'api-address'), { force: true });
}
