import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { SecretKeeper } from './secret-keeper.ts';

const failure = (sentence: string) => ({ code: 'CHANNEL_REFUSED', sentence, retry: 'later' as const });

it('reads a secret from the environment or a file, without the white space around it', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'quayside-secret-'));
  onTestFinished(() => rm(folder, { recursive: true }));
  await writeFile(join(folder, 'secret'), '  clay and water\n');
  const keeper = new SecretKeeper({ PASSWORD: 'glaze' });
  expect(await keeper.secret({ env: 'PASSWORD' })).toBe('glaze');
  expect(await keeper.secret({ file: join(folder, 'secret') })).toBe('clay and water');
});

it.each([{ env: 'NONE' }, { env: 'EMPTY' }, { file: '/nowhere/secret' }])(
  'names the place of a missing one (%o)',
  async (place) => {
    const reading = new SecretKeeper({ EMPTY: ' ' }).secret(place);
    await expect(reading).rejects.toMatchObject({ code: 'SECRET_MISSING', retry: 'later' });
    await expect(reading).rejects.toThrow(Object.values(place)[0]);
  },
);

it('takes what it read out of what is said, in whatever form it is repeated', async () => {
  const keeper = new SecretKeeper({ PASSWORD: 'clay & water', HOOK: 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw' });
  expect(keeper.redact(failure('It said clay & water.')).sentence).toBe('It said clay & water.');
  await keeper.secret({ env: 'PASSWORD' });
  await keeper.secret({ env: 'HOOK' });
  const said = `clay & water, ${encodeURIComponent('clay & water')}, ${btoa('clay & water')}, MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw`;
  expect(keeper.redact(failure(said)).sentence).toBe('***, ***, ***, ***');
});
