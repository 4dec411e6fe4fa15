import { expect, it } from 'vitest';
import { byTurns } from './by-turns.ts';

/** Work that ends when it is told to, and gives the number of its round. */
function rounds() {
  const ends: ((fails: boolean) => void)[] = [];
  const ask = byTurns(
    () =>
      new Promise<number>((resolve, reject) => {
        const number = ends.length + 1;
        ends.push((fails) => (fails ? reject(new Error(`round ${number}`)) : resolve(number)));
      }),
  );
  return { ends, ask };
}

it('whoever asks while it is under way gets the next round, all of them the same', async () => {
  const { ends, ask } = rounds();
  const [first, second, third] = [ask(), ask(), ask()];
  expect(ends).toHaveLength(1);
  ends[0]?.(false);
  expect(await first).toBe(1);
  await Promise.resolve();
  expect(ends).toHaveLength(2);
  ends[1]?.(false);
  expect(await Promise.all([second, third])).toEqual([2, 2]);
  const fourth = ask();
  ends[2]?.(false);
  expect(await fourth).toBe(3);
});

it('a round that fails fails for those who asked for it, and not for the next', async () => {
  const { ends, ask } = rounds();
  const [first, second] = [ask(), ask()];
  ends[0]?.(true);
  await expect(first).rejects.toThrow('round 1');
  await Promise.resolve();
  ends[1]?.(false);
  expect(await second).toBe(2);
});
