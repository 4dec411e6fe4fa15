import { hostname, networkInterfaces } from 'node:os';
import { expect, it } from 'vitest';
import { serverOf } from './server-of.ts';

const at = (fileSystem: string, source: string, serverAddress: string | null = null): string | null =>
  serverOf({ fileSystem, source, serverAddress });

// Forms of the sources: nfs(5), mount.cifs(8), sshfs(1).
it.each([
  ['nfs4', 'Nas.local:/films', 'nas.local'],
  ['nfs', '[fd00::5]:/films', 'fd00::5'],
  ['cifs', '//vault/rushes', 'vault'],
  ['smbfs', '//desk@vault/rushes', 'vault'],
  ['fuse.sshfs', 'desk@kiln:/srv/films', 'kiln'],
])('a share of kind %s from %s lies on %s', (fileSystem, source, server) => {
  expect(at(fileSystem, source)).toBe(server);
});

it('two names of one server are one when the kernel tells its address', () => {
  expect(at('nfs4', 'nas:/a', '10.0.0.5')).toBe(at('cifs', '//nas.local/b', '10.0.0.5'));
});

it('a share that this machine serves to itself is not on another machine', () => {
  expect(at('nfs4', 'localhost:/films')).toBeNull();
  expect(at('nfs4', 'me:/films', '127.0.1.1')).toBeNull();
  expect(at('nfs', '[::1]:/films')).toBeNull();
  expect(at('fuse.sshfs', `desk@${hostname()}:/srv/films`)).toBeNull();
  const own = Object.values(networkInterfaces()).flatMap((all = []) => all.map(({ address }) => address));
  for (const address of own) expect(at('cifs', '//studio/films', address)).toBeNull();
});

it('what is no network mount has no server', () => {
  expect(at('ext4', '/dev/sda1')).toBeNull();
  expect(at('overlay', 'overlay')).toBeNull();
  expect(at('fuse.mergerfs', 'a:b')).toBeNull();
});
