import { ApiProblem } from '../problems/api-problem.ts';

/** A place in a list as opaque text. It names the last row given, never an offset, so a list that grows is paged without gaps. */
export function cursorOf(place: readonly (string | number)[]): string {
  return Buffer.from(JSON.stringify(place)).toString('base64url');
}

/**
 * The place that a cursor stands for, its parts as text.
 * @throws ApiProblem `bad-request` when it is not one that `cursorOf` made with as many parts.
 */
export function placeOf(cursor: string, parts: number): readonly string[] {
  const place = parse(cursor);
  if (
    Array.isArray(place) &&
    place.length === parts &&
    place.every((part) => ['string', 'number'].includes(typeof part))
  ) {
    return place.map(String);
  }
  throw new ApiProblem('bad-request', 'The cursor is not one of this list. Leave it out to begin at the first page.', {
    errors: [{ detail: 'is not a cursor of this list', pointer: '#/cursor' }],
  });
}

function parse(cursor: string): unknown {
  try {
    return JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
  } catch {
    return null;
  }
}
