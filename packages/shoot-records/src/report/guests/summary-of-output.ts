import type { PicturedRun } from '../../shoot-picture.ts';

const MOST_PARTS = 6;
const MOST_CHARACTERS = 60;

/** What a step gave in a few words: its values by name, and of a list or what has parts of its own how many. */
export function summaryOfOutput(output: PicturedRun['output']): string {
  if (output === null) return 'nothing';
  if (typeof output !== 'object') return short(String(output));
  if (Array.isArray(output)) return `${output.length} in a list`;
  const parts = Object.entries(output);
  if (parts.length === 0) return 'nothing';
  const told = parts.slice(0, MOST_PARTS).map(([key, value]) => `${short(key)}: ${valueText(value)}`);
  return [...told, ...(parts.length > MOST_PARTS ? [`and ${parts.length - MOST_PARTS} more`] : [])].join(', ');
}

function valueText(value: PicturedRun['output']): string {
  if (value === null) return 'none';
  if (Array.isArray(value)) return `${value.length} in a list`;
  if (typeof value === 'object') return `${Object.keys(value).length} parts`;
  return short(String(value));
}

function short(text: string): string {
  return text.length > MOST_CHARACTERS ? `${text.slice(0, MOST_CHARACTERS)}…` : text;
}
