/** The environment as it was handed in; never read here. */
export type Environment = Readonly<Record<string, string | undefined>>;

/**
 * Where the data folder lies when the file does not say: the folder systemd made for the service, else the user's state
 * folder (XDG Base Directory Specification 0.8), else null when the environment names neither.
 */
export function defaultDataFolder(env: Environment): string | null {
  // systemd separates several state folders by colons; the first is the service's own (systemd.exec(5)).
  const [bySystemd] = (env['STATE_DIRECTORY'] ?? '').split(':');
  if (isAbsolute(bySystemd)) return bySystemd;
  // A relative path in an XDG variable is invalid and must be ignored, an empty one counts as unset (same specification).
  const state = env['XDG_STATE_HOME'];
  if (isAbsolute(state)) return `${withoutSlash(state)}/quayside`;
  const home = env['HOME'];
  return isAbsolute(home) ? `${withoutSlash(home)}/.local/state/quayside` : null;
}

function isAbsolute(path: string | undefined): path is string {
  return path !== undefined && path.startsWith('/');
}

function withoutSlash(path: string): string {
  return path.replace(/\/+$/, '');
}
