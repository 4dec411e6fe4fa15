import process from 'node:process';
import { isCommand, runQuietly, runShown } from './run.mjs';
import { Stop } from './stop.mjs';

/**
 * Programs from outside npm. Any one of `commands` will do. `isPart` tools only let more tests run: their lack is told,
 * not mended. `only` names the one system that has the tool.
 */
const TOOLS = [
  {
    commands: ['redis-server', 'valkey-server'],
    apt: 'redis-server',
    aptElse: 'valkey-server',
    brew: 'redis',
    why: 'the service keeps its queue in Redis',
  },
  { commands: ['ffmpeg'], apt: 'ffmpeg', brew: 'ffmpeg', why: 'ffmpeg makes real media for the demo and the tests' },
  { commands: ['mkfs.exfat'], apt: 'exfatprogs', only: 'linux', isPart: true, why: 'the tests that make exFAT drives' },
  {
    commands: ['mount.exfat-fuse'],
    apt: 'exfat-fuse',
    only: 'linux',
    isPart: true,
    why: 'the tests on exFAT where the kernel cannot mount it',
  },
  { commands: ['losetup'], apt: 'util-linux', only: 'linux', isPart: true, why: 'the tests on mounted drives' },
  {
    commands: ['xmllint'],
    apt: 'libxml2-utils',
    brew: 'libxml2',
    isPart: true,
    why: 'the tests of manifests against the published schema',
  },
  {
    commands: ['xxhsum'],
    apt: 'xxhash',
    brew: 'xxhash',
    isPart: true,
    forBench: true,
    forTorture: true,
    why: 'the checks of our hashes by xxhsum',
  },
  {
    commands: ['nbdkit'],
    apt: 'nbdkit',
    only: 'linux',
    isPart: true,
    forTorture: true,
    why: 'the tests on virtual drives that fail',
  },
  {
    commands: ['nbdfuse'],
    apt: 'libnbd-bin',
    only: 'linux',
    isPart: true,
    forTorture: true,
    why: 'the tests on virtual drives that fail',
  },
  { commands: ['rsync'], apt: 'rsync', brew: 'rsync', isPart: true, forBench: true, why: 'the comparisons with rsync' },
  {
    commands: ['chromium', 'chromium-browser'],
    apt: 'chromium',
    only: 'linux',
    isPart: true,
    why: 'the tests of the page and the report in a browser',
  },
  { commands: ['fio'], apt: 'fio', brew: 'fio', forBench: true, why: 'fio measures what the disk can do at most' },
  { commands: ['rclone'], apt: 'rclone', brew: 'rclone', forBench: true, why: 'the bench is compared with rclone' },
];

/** What is missing for a purpose: what must be installed, and what is only to be named. */
export function missingTools(purpose) {
  const missing = TOOLS.filter(
    (tool) => (tool.only ?? process.platform) === process.platform && !tool.commands.some(isCommand),
  );
  const mustHaveAll = purpose === 'test' && process.env.CI === 'true' && process.getuid?.() === 0;
  const isWanted = (tool) => {
    if (purpose === 'bench' && tool.forBench) return true;
    if (purpose === 'torture' && tool.forTorture) return true;
    return tool.isPart ? mustHaveAll : !tool.forBench;
  };
  const wanted = missing.filter(isWanted);
  return {
    wanted,
    merelyNamed: purpose === 'test' ? missing.filter((tool) => tool.isPart && !wanted.includes(tool)) : [],
  };
}

/** Installs tools with the system's package manager. Throws a `Stop` with the exact command when it may not, or it failed. */
export function installSystemTools(tools) {
  const manager = packageManager();
  const list = tools.map((tool) => `  ${manager?.nameOf(tool) ?? tool.apt}: ${tool.why}`).join('\n');
  if (manager === null) {
    throw new Stop(
      `These programs are missing, and neither apt-get nor Homebrew is here to install them:\n${list}\nInstall them with the package manager of this system, then try again.`,
    );
  }
  if (manager.prefix === null) {
    throw new Stop(
      `These programs are missing, and installing them needs ${manager.rights}:\n${list}\nRun this, then try again:\n\n  ${manager.commandFor(tools)}\n`,
    );
  }
  process.stdout.write(`Installing with ${manager.name}:\n${list}\n`);
  manager.install(tools);
  const still = tools.filter((tool) => !tool.commands.some(isCommand));
  if (still.length === 0) return;
  throw new Stop(
    `${manager.name} did not bring ${still.map((tool) => tool.commands[0]).join(', ')}; its own words are above. Try it by hand:\n\n  ${manager.commandFor(tools)}\n`,
  );
}

/** Says which tests will be skipped for want of a tool, and how to have them run. */
export function nameSkippedTests(tools) {
  const lines = tools.map((tool) => `  ${tool.commands[0]} is missing: ${tool.why}`).join('\n');
  const command = packageManager()?.commandFor(tools);
  process.stdout.write(
    `These tests will be skipped:\n${lines}\n${command === undefined ? '' : `To run them too: ${command}\n`}`,
  );
}

function packageManager() {
  if (isCommand('apt-get')) return apt();
  return isCommand('brew') ? homebrew() : null;
}

function apt() {
  const prefix = process.getuid?.() === 0 ? [] : runQuietly('sudo', ['-n', 'true']) ? ['sudo', '-n'] : null;
  return {
    name: 'apt-get',
    rights: 'root or sudo',
    prefix,
    nameOf: aptName,
    commandFor: (tools) => `sudo apt-get update && sudo apt-get install -y ${tools.map(aptName).join(' ')}`,
    install: (tools) => installByApt(prefix, tools),
  };
}

function installByApt(prefix, tools) {
  const run = (...args) =>
    runShown('env', [
      ...prefix,
      'env',
      'DEBIAN_FRONTEND=noninteractive',
      'apt-get',
      '-qq',
      '-o=Dpkg::Use-Pty=0',
      ...args,
    ]);
  // A list that could not be refreshed may still do, so only the installation decides.
  run('update');
  run('install', '-y', '--no-install-recommends', ...tools.map((tool) => (isOffered(tool) ? tool.apt : tool.aptElse)));
}

/** Some systems offer Redis only under its younger name. */
function isOffered(tool) {
  return tool.aptElse === undefined || runQuietly('apt-cache', ['show', tool.apt]);
}

function aptName(tool) {
  return tool.apt;
}

function homebrew() {
  // Homebrew refuses to run as root.
  const prefix = process.getuid?.() === 0 ? null : [];
  const commandFor = (tools) => `brew install ${tools.map(brewName).join(' ')}`;
  const install = (tools) => runShown('brew', ['install', ...tools.map(brewName)]);
  return { name: 'Homebrew', rights: 'a user who is not root', prefix, nameOf: brewName, commandFor, install };
}

function brewName(tool) {
  return tool.brew;
}
