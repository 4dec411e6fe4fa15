import { expect, it } from 'vitest';
import { actionsFor } from './actions-for.ts';
import type { History, RecordedFile } from './history.ts';

const recorded = (hashes: RecordedFile['hashes']): RecordedFile => ({
  sizeInBytes: 1,
  modifiedMs: 0,
  hashes,
  lastAction: 'verified',
  lastGeneration: 3,
  failed: false,
});
const history: History = {
  generations: [],
  ignore: [],
  faults: [],
  files: new Map([
    [
      'a.mov',
      recorded(
        new Map([
          ['xxh128', { value: 'x', action: 'original', generation: 1 }],
          ['md5', { value: 'm', action: 'verified', generation: 2 }],
          ['c4', { value: 'bad', action: 'failed', generation: 3 }],
        ]),
      ),
    ],
    ['bad.mov', recorded(new Map([['md5', { value: 'm', action: 'failed', generation: 1 }]]))],
  ]),
};

// ASC MHL Specification v1.0, section 6.5.1, and its note on a new algorithm.
it.each([
  ['new.mov', { xxh128: 'x', md5: 'm' }, { xxh128: 'original', md5: 'original' }],
  ['a.mov', { xxh128: 'x' }, { xxh128: 'verified' }],
  ['a.mov', { xxh128: 'other' }, { xxh128: 'failed' }],
  ['a.mov', { xxh128: 'x', sha1: 's' }, { xxh128: 'verified', sha1: 'verified' }],
  ['a.mov', { xxh128: 'other', sha1: 's' }, { xxh128: 'failed', sha1: 'failed' }],
  ['a.mov', { xxh128: 'x', md5: 'other', sha1: 's' }, { xxh128: 'verified', md5: 'failed', sha1: 'failed' }],
  ['a.mov', { md5: 'm', c4: 'bad' }, { md5: 'verified', c4: 'verified' }],
  ['a.mov', { md5: 'other', c4: 'bad' }, { md5: 'failed', c4: 'failed' }],
])('%s with %j gets %j', (path, digests, actions) => {
  expect(actionsFor(history, path, digests)).toEqual(actions);
});

it.each([
  ['a.mov', { sha1: 's' }],
  ['a.mov', { c4: 'bad' }],
  ['bad.mov', { md5: 'm' }],
])('%s with %j cannot be compared, which is neither verified nor failed', (path, digests) => {
  expect(() => actionsFor(history, path, digests)).toThrow(
    expect.objectContaining({ code: 'MANIFEST_NO_SHARED_HASH' }),
  );
});
