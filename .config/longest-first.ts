import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * Runs the files that take minutes before all others, so that none of them is left to the end, where it has one worker to
 * itself and the other has nothing to do. By itself the runner goes by size in a fresh clone, and these are among the shortest.
 */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    // oxlint-disable-next-line unicorn/no-array-sort -- the runner's own method, which gives a new array
    const sorted = await super.sort(files);
    return sorted.toSorted((one, other) => placeOf(one) - placeOf(other));
  }
}

/** By the times in e2e/.results/vitest.json, which every run leaves. */
const LONGEST: readonly string[] = [
  'e2e/torture/torture.test.ts',
  'e2e/faults/redis.test.ts',
  'e2e/faults/interruptions.test.ts',
  'e2e/demo/demo.test.ts',
];

function placeOf({ moduleId }: TestSpecification): number {
  const place = LONGEST.findIndex((path) => moduleId.endsWith(path));
  return place === -1 ? LONGEST.length : place;
}
