/** What was loaded is no plugin. The message says why. */
export class NotAPlugin extends Error {
  override readonly name = 'NotAPlugin';
}
