/** Compares text by code units: the same everywhere, whatever the language of the machine. */
export function compareText(left: string, right: string): number {
  if (left === right) return 0;
  return left < right ? -1 : 1;
}
