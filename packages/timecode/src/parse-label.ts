import { countOfLabel, findLabelFault, type Label } from './label.ts';
import type { Rate } from './rate.ts';
import { quoted, TimecodeError, type TimecodeFault } from './timecode-fault.ts';

/** A label that exists and its count, or why the text is none. */
export type LabelReading =
  | { readonly ok: true; readonly count: number; readonly label: Label }
  | { readonly ok: false; readonly fault: TimecodeFault };

/** How strictly a label is read. */
export interface LabelReadingOptions {
  /**
   * What the mark before the frames means: `;` or `.` says drop frame, `:` non-drop. `demanded` (default) refuses a mark
   * that contradicts the rate; `ignored` is for sources that always write one mark and tell the counting elsewhere.
   */
  readonly mark?: 'demanded' | 'ignored';
}

/** Reads `HH:MM:SS:FF` (`;` or `.` before the frames is drop frame). A label that does not exist at the rate is a fault. */
export function parseLabel(text: string, rate: Rate, options: LabelReadingOptions = {}): LabelReading {
  const parts = /^([0-9]{2}):([0-9]{2}):([0-9]{2})([:;.])([0-9]{2,3})$/.exec(text);
  if (parts === null) {
    return refuse(
      'LABEL_MALFORMED',
      `${quoted(text)} is not a timecode label: HH:MM:SS:FF is expected, with ; before the frames for drop frame.`,
    );
  }
  const isMarkedDropFrame = parts[4] !== ':';
  if (options.mark !== 'ignored' && isMarkedDropFrame !== rate.drop > 0) {
    return refuse(
      'LABEL_MARK_CONTRADICTS_RATE',
      `${quoted(text)} is marked ${isMarkedDropFrame ? 'drop frame' : 'non-drop'}, but the rate is ${rate.name}: find out which of the two the recorder was set to.`,
    );
  }
  const label: Label = {
    hours: Number(parts[1]),
    minutes: Number(parts[2]),
    seconds: Number(parts[3]),
    frames: Number(parts[5]),
  };
  const fault = findLabelFault(label, rate);
  if (fault !== null) return refuse(fault.code, `${quoted(text)} is no label. ${fault.sentence}`);
  return { ok: true, count: countOfLabel(label, rate), label };
}

/** The count at a label that must exist; throws TimecodeError with `parseLabel`'s fault when it does not. */
export function countAtLabel(text: string, rate: Rate): number {
  const reading = parseLabel(text, rate);
  if (!reading.ok) throw new TimecodeError(reading.fault);
  return reading.count;
}

function refuse(code: TimecodeFault['code'], sentence: string): LabelReading {
  return { ok: false, fault: { code, sentence } };
}
