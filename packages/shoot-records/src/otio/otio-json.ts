/** What JSON can hold. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** An object of OpenTimelineIO: `OTIO_SCHEMA` is its name and version, as in `Clip.2`. */
export interface Otio {
  readonly OTIO_SCHEMA: string;
  readonly [key: string]: Json;
}
