// The linter opens tests outside their tsconfig and would not know Node there.
/// <reference types="node" />
import { statSync, utimesSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { codesOf, RollOnMedia } from './roll-on-media.test-support.ts';

const ACCEPT = { sameDevice: 'accept' } as const;

it('a proven copy that was written to before it was sealed is no proof, though it was sealed after', async () => {
  await using media = new RollOnMedia();
  media.write('drive/CLIPS/a.mov', 'first take');
  await media.copy('drive', ['primary', 'backup']);
  await media.readBack();
  const { mtime } = statSync(media.stored('backup', 'CLIPS/a.mov'));
  // Of the same size, and its time set back: what an editing program leaves that means well.
  writeFileSync(media.stored('backup', 'CLIPS/a.mov'), 'first tako');
  utimesSync(media.stored('backup', 'CLIPS/a.mov'), mtime, mtime);
  await media.seal();
  expect(codesOf(await media.judge(ACCEPT))).toEqual(['COPY_GONE', 'TOO_FEW_COPIES']);
  // It is read when it is asked for again, and then it is bad.
  await media.readBack();
  await media.copy('drive', ['primary', 'backup']);
  await media.readBack();
  await media.seal();
  expect(codesOf(await media.judge(ACCEPT))).toEqual([]);
});
