/** What JSON can hold. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** An object of OpenTimelineIO: `OTIO_SCHEMA` is its name and version, as in `Clip.2`. */
export interface Otio {
  readonly OTIO_SCHEMA: string;
  readonly [key: string]: Json;
}

/** The text of an `.otio` file: indented, so that a person can read it, but by one space, since it is deep. */
export function printOtio(top: Otio): string {
  return `${JSON.stringify(top, null, 1)}\n`;
}
