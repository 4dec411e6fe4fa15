import { expect, it } from 'vitest';
import { writeAddress } from './write-address.ts';

it('keeps an id one part of the path, whatever is in it', () => {
  expect(writeAddress('/v1/rolls/{id}/retry', { id: 'a/b c?d#e%' })).toBe('/v1/rolls/a%2Fb%20c%3Fd%23e%25/retry');
});

it.each(['', '.', '..'])('refuses "%s", which would vanish from the address and leave another', (id) => {
  expect(() => writeAddress('/v1/rolls/{id}/retry', { id })).toThrow(`"${id}" can be the id of nothing`);
});

it('writes the query that is given, and leaves out what is not', () => {
  const query = { verdict: 'hold', limit: 2, cursor: undefined, step: 'sheet & more' };
  expect(writeAddress('/v1/rolls', {}, query)).toBe('/v1/rolls?verdict=hold&limit=2&step=sheet+%26+more');
  expect(writeAddress('/v1/rolls', {}, { cursor: undefined })).toBe('/v1/rolls');
});
