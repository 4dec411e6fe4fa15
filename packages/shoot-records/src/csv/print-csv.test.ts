import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unguardFormula } from './guard-formula.ts';
import { printCsv } from './print-csv.ts';

/** The rows by a parser that is none of ours, set to RFC 4180. */
function rowsOf(text: string): readonly (readonly string[])[] {
  return parse(text, { record_delimiter: '\r\n', relax_quotes: false });
}

/** Texts made of what matters to spreadsheets, and of anything. */
const texts = fc.oneof(
  fc.string({
    unit: fc.constantFrom(
      '=',
      '+',
      '-',
      '@',
      '＝',
      '＋',
      '－',
      '＠',
      "'",
      '"',
      ',',
      ';',
      '|',
      '\t',
      '\r',
      '\n',
      ' ',
      'a',
      '1',
    ),
  }),
  fc.string({ unit: 'binary' }),
);

describe('CSV', () => {
  it('is read back by another parser exactly as it was, once the guards are taken off', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(texts, texts, texts), { minLength: 1, maxLength: 4 }), (rows) => {
        const read = rowsOf(printCsv(['one', 'two', 'three'], rows));
        expect(read.slice(1).map((row) => row.map(unguardFormula))).toEqual(rows);
      }),
      { numRuns: 500 },
    );
  });

  it('has no place where any spreadsheet could begin a cell with a formula', () => {
    fc.assert(
      fc.property(fc.tuple(texts, texts), (row) => {
        const pieces = printCsv(['one', 'two'], [row]).split(/[,;|\t\r\n]/);
        for (const piece of pieces) expect(piece).not.toMatch(/^[\s"]*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]/);
      }),
      { numRuns: 500 },
    );
  });

  // The examples are those of OWASP, "CSV Injection".
  it.each([
    ['=1+2', "'=1+2"],
    ['@SUM(1;2)', `"'@SUM(1;2)"`],
    ['=1+2";=1+2', `"'=1+2"";'=1+2"`],
    ['\t=1', `"\t'=1"`],
    [' +1', `" '+1"`],
    ['kiln; -3 frames', `"kiln; '-3 frames"`],
    ["'as written'", "''as written'"],
  ])('guards %j', (text, written) => {
    expect(printCsv(['text'], [[text]])).toBe(`text\r\n${written}\r\n`);
    expect(rowsOf(printCsv(['text'], [[text]]))[1]?.map(unguardFormula)).toEqual([text]);
  });

  it('leaves numbers, also negative ones, as they are; writes yes and no, and nothing for null', () => {
    expect(printCsv(['a', 'b', 'c', 'd'], [[-1.5, true, false, null]])).toBe('a,b,c,d\r\n-1.5,yes,no,\r\n');
  });
});
