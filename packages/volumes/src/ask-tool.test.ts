import { expect, it } from 'vitest';
import { askTool } from './ask-tool.ts';

it('a tool that is not installed is an answer, not an error', async () => {
  expect(await askTool('no-such-tool-here', [])).toEqual({ outcome: 'missing' });
});

it('a tool that fails tells its exit code and what it wrote', async () => {
  expect(await askTool('sh', ['-c', 'echo so far; exit 8'])).toEqual({
    outcome: 'ran',
    exitCode: 8,
    output: 'so far\n',
  });
});

it('a tool that hangs is given up', async () => {
  expect(await askTool('sleep', ['600'])).toEqual({ outcome: 'hung' });
});
