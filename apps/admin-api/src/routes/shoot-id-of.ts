import { createHash } from 'node:crypto';

/**
 * The folder name of a shoot's name: letters without their marks, everything else a hyphen. A name in a script that has no
 * such letters gets an id of its own, which is the same each time.
 */
export function shootIdOf(name: string): string {
  const plain = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-/, '')
    .slice(0, 64)
    .replace(/-$/, '');
  return plain === '' ? `shoot-${createHash('sha256').update(name.normalize('NFC')).digest('hex').slice(0, 8)}` : plain;
}
