import { labelOfCount } from './label.ts';
import type { Rate } from './rate.ts';

/**
 * The label at a count as `HH:MM:SS:FF`, with `;` before the frames for drop frame. Days beyond midnight are taken off.
 * Above base 100 the frames have three digits, so that labels of one rate have one width and sort as text.
 */
export function printLabel(count: number, rate: Rate): string {
  const { hours, minutes, seconds, frames } = labelOfCount(count, rate);
  const clock = [hours, minutes, seconds].map((part) => String(part).padStart(2, '0')).join(':');
  const mark = rate.drop > 0 ? ';' : ':';
  return `${clock}${mark}${String(frames).padStart(rate.base > 100 ? 3 : 2, '0')}`;
}
