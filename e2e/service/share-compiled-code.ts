import { mkdir, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/**
 * Lets a service with this data folder take the code that services of earlier tests have compiled. Else each would compile
 * all of its own, which is half of the processor time of a start. The code is no part of what a test looks at or cuts the
 * power of.
 */
export async function shareCompiledCode(dataFolder: string): Promise<void> {
  const shared = join(tmpdir(), 'quayside-compiled-for-tests');
  for (const folder of [shared, dataFolder]) await mkdir(folder, { recursive: true });
  await symlink(shared, join(dataFolder, 'compile-cache'));
}
