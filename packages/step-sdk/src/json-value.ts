/** What a step's output may hold: it is stored, shown and handed to later steps as JSON, so a `Date` or a `Map` would not arrive. */
export type JsonValue =
  | string
  | number
  | boolean
  | null
  | readonly JsonValue[]
  | { readonly [key: string]: JsonValue | undefined };
