// oxlint-disable node/no-process-env -- what a guest gets of it is decided here and nowhere else
/** All that a guest's process finds in its environment: nothing of the service's, so none of its secrets. */
export function cleanEnvironment(workFolder: string): Readonly<Record<string, string>> {
  const { LANG, TZ } = process.env;
  return {
    PATH: '/usr/local/bin:/usr/bin:/bin:/opt/homebrew/bin',
    LANG: LANG ?? 'C.UTF-8',
    ...(TZ === undefined ? {} : { TZ }),
    HOME: workFolder,
    TMPDIR: workFolder,
  };
}
