import { generationOf, inventedFile } from './hash-lists.test-support.ts';
import { writeGeneration } from './write-generation.ts';

// Run as a program by `hold-history.test.ts`, twice at once: node hold-history-child.test-support.ts <roll root> <name> <count>
const [root = '', name = '', count = '0'] = process.argv.slice(2);
for (let index = 0; index < Number(count); index += 1) {
  // Its own start for each, so that the names of manifests never collide by chance and hide a number that is there twice.
  const startedAt = new Date(Date.UTC(2026, 2, name === 'one' ? 5 : 6, 18, index)).toISOString();
  await writeGeneration(
    root,
    generationOf([await inventedFile(`${name}-${index}.mov`)], { startedAt, complete: false }),
  );
}
