import { execFileSync } from 'node:child_process';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hasTool } from '../media-files.test-support.ts';
import { bytesFromName, nameFromBytes } from './name-bytes.ts';

const hasPython = hasTool('python3');

describe('names as bytes', () => {
  it('any bytes come back exactly', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 64 }), (bytes) => {
        expect([...bytesFromName(nameFromBytes(bytes))]).toEqual([...bytes]);
      }),
    );
  });

  it('valid UTF-8 in any script stays as it is, also beyond the basic plane', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary' }).filter((text) => text.isWellFormed()),
        (text) => {
          expect(nameFromBytes(Buffer.from(text, 'utf8'))).toBe(text);
          expect(bytesFromName(text).toString('utf8')).toBe(text);
        },
      ),
    );
  });

  it('names survive JSON', () => {
    const name = nameFromBytes(Buffer.from([0x61, 0xff, 0xc3, 0x28, 0xf0, 0x9f, 0x98]));
    expect(JSON.parse(JSON.stringify(name))).toBe(name);
  });

  // PEP 383 is defined by Python, so Python says what is right.
  it.skipIf(!hasPython)(
    `names are those of Python's surrogateescape${hasPython ? '' : ' (skipped: no python3)'}`,
    () => {
      const cases = ['ff', '61c328', 'edb080', 'f4908080', 'c080', 'e282', 'e282ac', 'f09f9880', 'f09f98', 'fe62c3a9'];
      const program = `import json;print(json.dumps([bytes.fromhex(h).decode("utf-8","surrogateescape") for h in ${JSON.stringify(cases)}]))`;
      const byPython: unknown = JSON.parse(execFileSync('python3', ['-c', program], { encoding: 'utf8' }));
      expect(cases.map((hex) => nameFromBytes(Buffer.from(hex, 'hex')))).toEqual(byPython);
    },
  );

  it('a surrogate that stands for no byte is refused', () => {
    expect(() => bytesFromName('a\ud800')).toThrow(expect.objectContaining({ code: 'NAME_NOT_BYTES' }));
  });
});
