import { expect, test } from 'vitest';
import { defaultDataFolder } from './default-data-folder.ts';

// Rules and check values: XDG Base Directory Specification 0.8 (empty counts as unset, relative is ignored);
// systemd.exec(5) for STATE_DIRECTORY (colon-separated, absolute).
test.each([
  [{ HOME: '/home/pat' }, '/home/pat/.local/state/quayside'],
  [{ HOME: '/home/pat', XDG_STATE_HOME: '' }, '/home/pat/.local/state/quayside'],
  [{ HOME: '/home/pat', XDG_STATE_HOME: 'state' }, '/home/pat/.local/state/quayside'],
  [{ HOME: '/home/pat', XDG_STATE_HOME: '/state/' }, '/state/quayside'],
  [
    { HOME: '/root', STATE_DIRECTORY: '/var/lib/quayside:/var/lib/other', XDG_STATE_HOME: '/state' },
    '/var/lib/quayside',
  ],
  [{ HOME: '/root', STATE_DIRECTORY: '' }, '/root/.local/state/quayside'],
  [{ HOME: '' }, null],
  [{}, null],
])('from %o it is %s', (env, folder) => {
  expect(defaultDataFolder(env)).toBe(folder);
});
