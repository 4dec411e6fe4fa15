import { readFile } from 'node:fs/promises';
import { QuaysideError } from '@quayside/shoot';
import type { Configuration } from './configuration-schema.ts';
import type { Environment } from './default-data-folder.ts';
import { parseConfiguration } from './parse-configuration.ts';

/**
 * The configuration in a file. Reads that file and nothing else.
 * @throws QuaysideError `CONFIG_MISSING` with an example, `CONFIG_UNREADABLE`, or `CONFIG_INVALID` with every fault.
 */
export async function readConfiguration(file: string, env: Environment): Promise<Configuration> {
  const bytes = await readFile(file).catch((error: unknown) => {
    throw unreadable(file, error);
  });
  return parseConfiguration(decode(bytes, file), { file, env, platform: process.platform });
}

function unreadable(file: string, cause: unknown): QuaysideError {
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : '';
  if (code === 'ENOENT' || code === 'ENOTDIR') {
    const sentence = `There is no configuration at ${file}. Write one with at least two destinations, for example:\n\n${SMALLEST_EXAMPLE}`;
    return new QuaysideError({ code: 'CONFIG_MISSING', sentence, retry: 'never' }, { cause });
  }
  const why = REASONS[code] ?? (cause instanceof Error ? cause.message : String(cause));
  const sentence = `The configuration at ${file} cannot be read: ${why}.`;
  return new QuaysideError({ code: 'CONFIG_UNREADABLE', sentence, retry: 'never' }, { cause });
}

function decode(bytes: Uint8Array, file: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch (cause) {
    const sentence = `${file}:1:1 is not UTF-8 text; save it as UTF-8.`;
    throw new QuaysideError({ code: 'CONFIG_INVALID', sentence, retry: 'never' }, { cause });
  }
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'this user may not read it; change its owner or its mode',
  EISDIR: 'it is a folder; name the file in it',
  ELOOP: 'it is a link that leads to itself; correct the link',
};

/** What a person without any configuration can start from. */
export const SMALLEST_EXAMPLE = `recorders:
  wheel: { role: camera, match: [{ label: WHEEL }] }
  desk: { role: sound, match: [{ label: DESK }] }
destinations:
  - { name: primary, path: /srv/footage }
  - { name: backup, path: /media/backup/footage }
`;
