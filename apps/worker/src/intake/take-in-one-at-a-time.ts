import type { Rolls } from '@quayside/step-sdk/built-in';
import type { IntakeParts } from './intake-parts.ts';
import { takeIn } from './take-in.ts';

/** Intakes go one after another: each must see the space that the one before has promised away. */
export function takeInOneAtATime(parts: IntakeParts): Rolls['takeIn'] {
  let last: Promise<unknown> = Promise.resolve();
  return (volumeKey, fingerprint) => {
    const mine = last.then(() => takeIn(parts, volumeKey, fingerprint));
    last = mine.catch(() => {});
    return mine;
  };
}
