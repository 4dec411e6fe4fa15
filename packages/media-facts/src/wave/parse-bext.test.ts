import { expect, it } from 'vitest';
import { parseBext } from './parse-bext.ts';

function bext(fields: { readonly reference?: string; readonly date?: string; readonly time?: string }): Buffer {
  const bytes = Buffer.alloc(602);
  bytes.write('desk', 256, 'latin1');
  bytes.write(fields.date ?? '', 320, 'latin1');
  bytes.write(fields.time ?? '', 330, 'latin1');
  Buffer.from(fields.reference ?? '', 'hex').copy(bytes, 338);
  return bytes;
}

function words(low: number, high: number): string {
  const bytes = Buffer.alloc(8);
  bytes.writeUInt32LE(low, 0);
  bytes.writeUInt32LE(high, 4);
  return bytes.toString('hex');
}

// EBU Tech 3285 stores the low word first. The bytes of the first two are published check values, also written so by ffmpeg; of
// the others the two words are.
it.each([
  ['10:00:00 at 48 kHz', '0030ff6600000000', 1_728_000_000],
  ['23:00:00 at 96 kHz', '0010c9d901000000', 7_948_800_000],
  ['12:00:00 at 192 kHz', words(3_999_432_704, 1), 8_294_400_000],
  ['23:59:59 at 192 kHz', words(3_703_706_112, 3), 16_588_608_000],
])('the time reference of %s is read in 64 bits', (_, reference, samples) => {
  expect(parseBext(bext({ reference }))?.timeReference).toBe(samples);
});

it('reads originator and date, with any of the signs that the standard lets stand between the numbers', () => {
  for (const sign of ['-', '_', ':', ' ', '.']) {
    const given = bext({ date: ['2026', '03', '14'].join(sign), time: ['10', '00', '05'].join(sign) });
    expect(parseBext(given)).toMatchObject({ originator: 'desk', originatedAt: '2026-03-14T10:00:05' });
  }
});

it('makes nothing up where there is no date, no time or no chunk', () => {
  expect(parseBext(bext({}))).toEqual({ originator: 'desk', originatedAt: null, timeReference: 0 });
  expect(parseBext(bext({ date: '2026-03-14' }))?.originatedAt).toBe('2026-03-14');
  expect(parseBext(bext({ date: '0000-00-00', time: '00:00:00' }))?.originatedAt).toBeNull();
  expect(parseBext(Buffer.alloc(345))).toBeNull();
  expect(parseBext(bext({ reference: 'ffffffffffffffff' }))?.timeReference).toBeNull();
});
