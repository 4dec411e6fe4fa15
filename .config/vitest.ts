import { defineConfig } from 'vitest/config';
import { LongestFirst } from './longest-first.ts';

// oxlint-disable import/no-default-export -- vitest reads its configuration from the default export
/**
 * Tests run the workspace's sources, as the apps do: the `source` condition of each package's `exports`. Where no test leaves
 * anything to the next, a package runs its files in one process (`--no-isolate`): a process and the same imports for each
 * took half of the time.
 */
export default defineConfig({
  resolve: { conditions: ['source'] },
  ssr: { resolve: { conditions: ['source'] } },
  test: {
    include: ['**/*.test.ts'],
    exclude: ['**/node_modules/**', '**/dist/**'],
    reporters: ['default', 'json'],
    outputFile: { json: '.results/vitest.json' },
    passWithNoTests: true,
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // Suites with real drives and servers share two cores; side by side they only wait for each other.
    fileParallelism: false,
    sequence: { sequencer: LongestFirst },
  },
});
