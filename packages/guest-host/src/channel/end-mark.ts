/**
 * What a guest's process prints on both its streams after a run, so that the host knows that it has read all before it. A
 * step that prints it itself only shortens its own log.
 */
export function endMark(run: string): string {
  return `\0end of ${run}`;
}
