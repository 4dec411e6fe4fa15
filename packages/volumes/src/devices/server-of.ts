import { BlockList, isIP } from 'node:net';
import { hostname, networkInterfaces } from 'node:os';
import type { MountEntry } from '../mounts/mount-entry.ts';

/**
 * The server that a network mount's data lies on, by its address when the kernel tells it, so that two names of one server are
 * one. Null for a mount that is not known to come from another machine, also when it comes from this one by a detour.
 */
export function serverOf(mount: Pick<MountEntry, 'fileSystem' | 'source' | 'serverAddress'>): string | null {
  const form = SOURCE_FORMS.find(({ fileSystem }) => fileSystem.test(mount.fileSystem));
  const host = form?.source
    .exec(mount.source)?.[1]
    ?.replaceAll(/^\[|\]$/g, '')
    .toLowerCase();
  if (!host) return null;
  const server = mount.serverAddress ?? host;
  return isThisMachine(server) ? null : server;
}

/** How each kind of network file system writes where its data comes from. */
const SOURCE_FORMS = [
  { fileSystem: /^nfs4?$/, source: /^(\[[^\]]+\]|[^:/]+):/ },
  { fileSystem: /^(?:cifs|smb3|smbfs|afpfs)$/, source: /^\/\/(?:[^@/]*@)?(\[[^\]]+\]|[^/:]+)/ },
  { fileSystem: /^fuse\.sshfs$/, source: /^(?:[^@:]*@)?(\[[^\]]+\]|[^:/]+):/ },
] as const;

const loopback = new BlockList();
loopback.addSubnet('127.0.0.0', 8, 'ipv4');
loopback.addAddress('::1', 'ipv6');

function isThisMachine(host: string): boolean {
  if (host === 'localhost' || host === hostname().toLowerCase()) return true;
  if (ownAddresses().includes(host)) return true;
  const version = isIP(host);
  return version !== 0 && loopback.check(host, version === 6 ? 'ipv6' : 'ipv4');
}

function ownAddresses(): readonly string[] {
  return Object.values(networkInterfaces()).flatMap((interfaces = []) => interfaces.map(({ address }) => address));
}
