/** A value that is replaced whole, with listeners that are told of each replacement. */
export interface Store<Value> {
  get(): Value;
  change(part: Partial<Value>): void;
  /** Gives the way to stop listening. */
  listen(heard: () => void): () => void;
}

/** A store with its first value. */
export function createStore<Value extends object>(first: Value): Store<Value> {
  let value = first;
  const listeners = new Set<() => void>();
  return {
    get: () => value,
    change(part) {
      value = { ...value, ...part };
      for (const heard of listeners) heard();
    },
    listen(heard) {
      listeners.add(heard);
      return () => void listeners.delete(heard);
    },
  };
}
