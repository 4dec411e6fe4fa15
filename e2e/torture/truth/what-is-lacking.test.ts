import { expect, it } from 'vitest';
import type { LookedAt } from './look-at-copies.ts';
import { whatIsLacking } from './what-is-lacking.ts';

const FOOTAGE = new Map([
  ['A.MOV', 'aaaa'],
  ['B.MOV', 'bbbb'],
]);

function at(destination: string, stored: Readonly<Record<string, string>>, proven = Object.keys(stored)): LookedAt {
  return { destination, stored: new Map(Object.entries(stored)), proven: new Set(proven), faults: [] };
}

const WHOLE = { 'A.MOV': 'aaaa', 'B.MOV': 'bbbb' };

it('finds nothing lacking where every file lies proven at two destinations', () => {
  expect(whatIsLacking(FOOTAGE, [at('primary', WHOLE), at('backup', WHOLE)])).toEqual([]);
});

it('takes a file under another name for the same, as long as its bytes are', () => {
  const renamed = { 'A.MOV': 'other', 'A (2).MOV': 'aaaa', 'B.MOV': 'bbbb' };
  expect(whatIsLacking(FOOTAGE, [at('primary', WHOLE), at('backup', renamed)])).toEqual([]);
});

it.each([
  ['is absent', at('backup', { 'A.MOV': 'aaaa' }), 'absent at backup'],
  ['holds other bytes', at('backup', { ...WHOLE, 'B.MOV': 'damaged' }), 'other bytes at backup'],
  ['is in no manifest', at('backup', WHOLE, ['A.MOV']), 'not listed at backup'],
])('says so where a copy %s', (_, backup, sentence) => {
  const lacking = whatIsLacking(FOOTAGE, [at('primary', WHOLE), backup]);
  expect(lacking).toHaveLength(1);
  expect(lacking[0]).toContain('"B.MOV" is proven at 1 of 2');
  expect(lacking[0]).toContain(sentence);
});

it('takes no verdict for true about a drive without files, or beside a history with a fault', () => {
  expect(whatIsLacking(new Map(), [at('primary', {}), at('backup', {})])).not.toEqual([]);
  const torn = { ...at('backup', WHOLE), faults: ['backup: 0001.mhl is not whole'] };
  expect(whatIsLacking(FOOTAGE, [at('primary', WHOLE), torn])).toEqual(['backup: 0001.mhl is not whole']);
});
