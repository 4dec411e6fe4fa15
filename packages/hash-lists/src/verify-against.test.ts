import { join } from 'node:path';
import { expect, it } from 'vitest';
import { digestOf, filesBelow, REELS } from './hash-lists.test-support.ts';
import { readHistory } from './read-history.ts';
import { type Found, verifyAgainst } from './verify-against.ts';

const CARD = join(REELS, 'A002R2EC');
const CLIPS = ['Clips/A002C006_141024_R2EC.mov', 'Clips/A002C007_141024_R2EC.mov'];

async function found(): Promise<Map<string, Found>> {
  const files = (await filesBelow(CARD)).map(async ({ path, bytes }): Promise<[string, Found]> => [
    path,
    {
      sizeInBytes: bytes.length,
      digests: { xxh64: await digestOf('xxh64', bytes), md5: await digestOf('md5', bytes) },
    },
  ]);
  return new Map(await Promise.all(files));
}

it('the published card verifies against its published history', async () => {
  const verdicts = verifyAgainst(await readHistory(CARD), await found());
  expect(verdicts).toEqual([...CLIPS, 'Sidecar.txt'].map((path) => ({ path, verdict: 'verified', by: ['xxh64'] })));
});

it('what is changed, gone, new, ignored or cannot be compared is told apart', async () => {
  const files = await found();
  const [first = '', second = ''] = CLIPS;
  files.set(first, { sizeInBytes: 6, digests: { xxh64: 'ffffffffffffffff' } });
  files.set(second, 'missing');
  files.set('Sidecar.txt', { sizeInBytes: 58, digests: { md5: '6425c5a180ca0f420dd2b25be4536a91' } });
  files.set('extra.mov', { sizeInBytes: 1, digests: {} });
  files.set('gone.mov', 'missing');
  files.set('Clips/.DS_Store', { sizeInBytes: 1, digests: {} });
  files.set('ascmhl/ascmhl_chain.xml', { sizeInBytes: 1, digests: {} });
  expect(verifyAgainst(await readHistory(CARD), files)).toEqual([
    {
      path: first,
      verdict: 'failed',
      mismatches: [
        { what: 'size', expected: '5', found: '6' },
        { what: 'xxh64', expected: '0ea03b369a463d9d', found: 'ffffffffffffffff' },
      ],
    },
    { path: second, verdict: 'missing' },
    { path: 'Sidecar.txt', verdict: 'unproven', recorded: ['xxh64'] },
    { path: 'extra.mov', verdict: 'new' },
  ]);
});

it('a recorded file that is not mentioned is missing', async () => {
  const verdicts = verifyAgainst(await readHistory(CARD), new Map());
  expect(verdicts.map(({ verdict }) => verdict)).toEqual(['missing', 'missing', 'missing']);
});

it('a right digest with a wrong size has failed', async () => {
  const files = await found();
  files.set('Sidecar.txt', { sizeInBytes: 59, digests: { xxh64: '3ab5a4166b9bde44' } });
  const verdict = verifyAgainst(await readHistory(CARD), files).find(({ path }) => path === 'Sidecar.txt');
  expect(verdict).toMatchObject({ verdict: 'failed', mismatches: [{ what: 'size' }] });
});
