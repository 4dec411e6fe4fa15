import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { c4FromDigest, c4Of, digestFromC4 } from './c4.ts';
import { REELS } from './hash-lists.test-support.ts';

// The first four are published in the tests of the C4 reference library; "bar" in part, the others recomputed.
const TEXTS: readonly [text: string, id: string][] = [
  ['', 'c459dsjfscH38cYeXXYogktxf4Cd9ibshE3BHUo6a58hBXmRQdZrAkZzsWcbWtDg5oQstpDuni4Hirj75GEmTc1sFT'],
  ['foo', 'c45xZeXwMSpqXjpDumcHMA6mhoAmGHkUo7r9WmN2UgSEQzj9KjgseaQdkEJ11fGb5S1WEENcV3q8RFWwEeVpC7Fjk2'],
  ['bar', 'c45KgBYEvEE7Yfv16JAgnUT29bon2WsYAiBFZvnKNJiQR8kya2tRtEdfD6vi8bjvmmDDrepEGmkNvk88M8NWdeV9ig'],
  ['abc', 'c45S4rnaTNWonxss1u8LzsaJdEph1AJhWUF4sh2waXKMsutyfAxg4ybUeuXVWS9HdNcEypmeXn8FZGonD4w1rj9DZp'],
];

it.each(TEXTS)('the C4 ID of the text "%s" is the published one', (text, id) => {
  expect(c4Of(Buffer.from(text))).toBe(id);
});

it('the largest and the smallest digest have the published IDs', () => {
  expect(c4FromDigest(Buffer.alloc(64, 0xff))).toBe(
    'c467rpwLCuS5DGA8KGZXKsVQ7dnPb9goRLoKfgGbLfQg9WoLUgNY77E2jT11fem3coV9nAkguBACzrU1iyZM4B8roQ',
  );
  expect(c4FromDigest(Buffer.alloc(64))).toBe(`c4${'1'.repeat(88)}`);
});

// The manifest "Reels" of the published scenario refers to both generation-0002 manifests by these IDs.
it.each([
  [
    'A002R2EC/ascmhl/0002_A002R2EC_2020-01-17_143000Z.mhl',
    'c45kfAU9bNHnT32pMzSdio6Qb7us3xkd65ff8uAvJcgdkpoQZUKoPFckwtVHozxgftZj4uUoXrRiAiwSqNGAxLUAKM',
  ],
  [
    'A003R2EC/ascmhl/0002_A003R2EC_2020-01-17_143000Z.mhl',
    'c42zP4mMY3CEpYEM9F9xde62ZbdmwRBc5gne7basp6RfZ11tZQxwcS95Gyhbrpea76em3aPE3Q823657oT27rrFYhB',
  ],
  [
    'A003R2EC/ascmhl/0001_A003R2EC_2020-01-16_091500Z.mhl',
    'c45zb4dbxTLtvaLg3hZX1ds9fc7RjKoi5UtQ4N9oFHo51v7mrhUJR8Kn5uY7aBjmkYwRN9bgF57A4LJM3nrN1dT5hQ',
  ],
  [
    'ascmhl/0001_Reels_2020-01-17_143000Z.mhl',
    'c43Hnsy7HbEdsTVp49jdZvrHXCVnbUedhbpo5xwWXtVfMhobbJbMcyuhqQBc4d6P9iRaND9aGZQpyjPBSQYfrDMCMJ',
  ],
])('the C4 ID of the published manifest %s is the published one', async (path, id) => {
  expect(c4Of(await readFile(join(REELS, path)))).toBe(id);
});

it('a digest comes back from its ID, and IDs sort as digests do', () => {
  const digest = fc.uint8Array({ minLength: 64, maxLength: 64 });
  fc.assert(
    fc.property(digest, digest, (one, other) => {
      expect(Buffer.compare(digestFromC4(c4FromDigest(one)), one)).toBe(0);
      const [first, second] = [c4FromDigest(one), c4FromDigest(other)];
      expect(first < second).toBe(Buffer.compare(one, other) < 0);
    }),
  );
});
