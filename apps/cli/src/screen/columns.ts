import stringWidth from 'string-width';

/** Rows as lines with their columns below each other; the last column is as long as it is. Colours take no width, and letters that are drawn wide take two. */
export function columns(rows: readonly (readonly string[])[], indent = ''): string[] {
  const widths = rows.reduce<number[]>((known, row) => {
    for (const [index, cell] of row.entries()) known[index] = Math.max(known[index] ?? 0, stringWidth(cell));
    return known;
  }, []);
  return rows.map((row) =>
    `${indent}${row.map((cell, index) => (index === row.length - 1 ? cell : cell + ' '.repeat((widths[index] ?? 0) - stringWidth(cell)))).join('  ')}`.trimEnd(),
  );
}
