import { rateFrom } from '@quayside/timecode';

/** How the first label of a proxy gets into it. */
export type TimecodeToWrite =
  | { readonly can: true; readonly label: string | null }
  | { readonly can: false; readonly why: string };

/** The rates in whole frames at which ffmpeg counts labels. */
const COUNTED: ReadonlySet<number> = new Set([24, 25, 30, 48, 50, 60, 100, 120]);
/** And those at which it knows to skip some. */
const DROPPING: ReadonlySet<number> = new Set([30, 60]);

/**
 * The label to hand to ffmpeg for an original that begins with this one, or why it would come out as another: a proxy that
 * starts elsewhere is worse than none.
 */
export function timecodeToWrite(
  label: string | null,
  rate: { readonly numerator: number; readonly denominator: number },
): TimecodeToWrite {
  if (label === null) return { can: true, label };
  const isDropping = label.includes(';');
  const read = rateFrom(rate, isDropping ? 'DF' : 'NDF');
  if (!read.ok) return { can: false, why: read.fault.sentence };
  const { base, name } = read.rate;
  const can = isDropping ? DROPPING.has(base) : COUNTED.has(base);
  return can ? { can, label } : { can, why: `ffmpeg cannot write timecode that counts at ${name}.` };
}
