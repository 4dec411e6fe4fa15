import { generationOf, inventedFile } from './hash-lists.test-support.ts';
import { writeGeneration } from './write-generation.ts';

// Run as a program by `crash.test.ts`, which kills it: node crash-child.test-support.ts <roll root> <path> <start>
const [root = '', path = '', startedAt = ''] = process.argv.slice(2);
await writeGeneration(root, generationOf([await inventedFile(path)], { startedAt }));
