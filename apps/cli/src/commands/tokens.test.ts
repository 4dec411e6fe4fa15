import { expect, it } from 'vitest';
import { makeHome, quayside } from '../quayside.test-support.ts';

it('makes a token, prints it once, lists it without its secret, and revokes it', async () => {
  await using home = await makeHome();
  const made = await quayside(['token', 'make', 'wall screen', '--scope', 'read', '--days', '30', '-c', home.file]);
  expect(made.stdout).toMatch(/^[a-z0-9]{8}\.[\w-]{43}\n$/);
  const [id = '', secret = ''] = made.stdout.trim().split('.');
  const listed = await quayside(['token', 'list', '-c', home.file]);
  expect(listed.stdout).toMatch(new RegExp(`\n${id}  wall screen  read   good until 2\\d{3}-`));
  expect(listed.stdout).not.toContain(secret);
  expect((await quayside(['token', 'revoke', id, '-c', home.file])).code).toBe(0);
  expect((await quayside(['token', 'list', '-c', home.file])).stdout).toContain('revoked 2');
});

it('refuses a scope that does not exist, and an id that nobody has', async () => {
  await using home = await makeHome();
  expect((await quayside(['token', 'make', 'x', '--scope', 'all', '-c', home.file])).code).toBe(2);
  expect((await quayside(['token', 'revoke', 'nosuchid', '-c', home.file])).code).toBe(1);
});
