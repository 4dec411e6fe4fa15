import { useEffect, useState } from 'preact/hooks';
import type { Store } from '../picture/store.ts';

/** The value of a store, new whenever it is replaced. */
export function useStore<Value>(store: Store<Value>): Value {
  const [value, setValue] = useState(store.get());
  useEffect(() => {
    setValue(store.get());
    return store.listen(() => setValue(store.get()));
  }, [store]);
  return value;
}
