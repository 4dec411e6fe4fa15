import { spawnSync } from 'node:child_process';
import { delimiter, join } from 'node:path';
import process from 'node:process';
import { accessSync, constants } from 'node:fs';

/** Runs a command with its output shown. True when it ended well. */
export function runShown(command, args, options = {}) {
  return spawnSync(command, args, { stdio: ['ignore', 'inherit', 'inherit'], ...options }).status === 0;
}

/** Runs a command and keeps quiet about it. True when it ended well. */
export function runQuietly(command, args) {
  return spawnSync(command, args, { stdio: 'ignore' }).status === 0;
}

/** True when the command is on the PATH, or where systems keep tools that only root has on its PATH. */
export function isCommand(name) {
  const folders = [
    ...(process.env.PATH ?? '').split(delimiter),
    '/usr/sbin',
    '/sbin',
    '/opt/homebrew/bin',
    '/usr/local/bin',
  ];
  return folders.some((folder) => folder !== '' && isExecutable(join(folder, name)));
}

function isExecutable(file) {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
