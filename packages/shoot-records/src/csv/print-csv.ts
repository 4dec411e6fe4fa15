import { guardFormula } from './guard-formula.ts';

export type Cell = string | number | boolean | null;

/**
 * CSV by RFC 4180: a header, CRLF after every row, quotes where they are needed, UTF-8 without a mark. Text is guarded against being
 * taken for a formula; numbers stand as they are, yes and no for true and false, nothing for null.
 */
export function printCsv(header: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [header, ...rows].map((row) => `${row.map(printCell).join(',')}\r\n`).join('');
}

function printCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no';
  const text = guardFormula(cell.toWellFormed());
  // Also around blanks at the ends and the separators of other countries, which the standard would not need.
  return /[",;\t\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
