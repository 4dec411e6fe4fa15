/** Lets so many through at once, in the order they came. */
export interface Gate {
  pass<Value>(work: () => Promise<Value>): Promise<Value>;
}

export function createGate(limit: number): Gate {
  const waiting: (() => void)[] = [];
  let inside = 0;
  return {
    pass: async (work) => {
      if (inside >= limit) await new Promise<void>((resolve) => waiting.push(resolve));
      else inside += 1;
      try {
        return await work();
      } finally {
        const next = waiting.shift();
        if (next === undefined) inside -= 1;
        else next();
      }
    },
  };
}
