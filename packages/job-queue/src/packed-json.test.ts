import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { packJson, unpackJson } from './packed-json.ts';

it('what was packed is unpacked, short or long, whatever the names in it are', () => {
  const names = fc.array(fc.oneof(fc.string({ unit: 'binary' }), fc.constant('lone \udc80')), { maxLength: 200 });
  fc.assert(
    fc.property(names, (value) => {
      const packed = packJson(value);
      expect(unpackJson(Buffer.from(packed))).toEqual(value);
    }),
  );
});

it('what is short stays text that anybody can read in Redis, and what is long takes less', () => {
  expect(packJson({ state: 'written' })).toBe('{"state":"written"}');
  expect(packJson(Array.from({ length: 1000 }, () => 'CLIPS/wheel.mov')).length).toBeLessThan(200);
});

it('what is damaged is undefined, never an error', () => {
  expect(unpackJson(Buffer.from('x\u0001 not deflated'))).toBeUndefined();
  expect(unpackJson('{')).toBeUndefined();
});
