import { isMet, type Row } from './row.ts';

const HEAD = ['bench', 'what', 'measured', 'target', ''] as const;
const VERDICTS = new Map<boolean | null, string>([
  [true, 'met'],
  [false, '**not met**'],
  [null, 'not measured'],
]);

/** The rows as a table in Markdown, aligned for a terminal too, and their notes below. */
export function printTable(rows: readonly Row[]): string {
  const cells = [HEAD, ...rows.map(cellsOf)];
  const widths = HEAD.map((_, column) => Math.max(...cells.map((line) => (line[column] ?? '').length)));
  const lines = cells.map((line) => `| ${line.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join(' | ')} |`);
  const rule = `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`;
  const notes = rows.flatMap(({ what, notes: told }) => told.map((note) => `- ${what}: ${note}`));
  return [lines[0], rule, ...lines.slice(1), '', ...notes].join('\n');
}

function cellsOf(row: Row): readonly string[] {
  const { bench, what, unit, value, samples, target } = row;
  const spread = samples.length > 1 ? ` (${samples.map((sample) => amount(sample)).join(', ')})` : '';
  return [
    bench,
    what,
    value === null ? '' : `${amount(value)} ${unit}${spread}`,
    `${target.sense} ${target.limit} ${unit}`,
    VERDICTS.get(isMet(row)) ?? '',
  ];
}

/** Three figures: the machine's noise is above the fourth. */
function amount(value: number): string {
  return value >= 100 ? value.toFixed(0) : value >= 10 ? value.toFixed(1) : value.toFixed(2);
}
