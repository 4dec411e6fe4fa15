import { QuaysideError } from '@quayside/shoot';

/**
 * Whether a manifest can carry this path: relative, `/` between parts, no `.` or `..`, and only characters that XML 1.0
 * allows. Control characters other than tab and line breaks are not, nor are lone surrogates (bytes that are no UTF-8).
 */
export function isRecordablePath(path: string): boolean {
  return isXmlText(path) && path.split('/').every((part) => part !== '' && part !== '.' && part !== '..');
}

/** @throws QuaysideError `MANIFEST_NAME` for a path that `isRecordablePath` denies. */
export function throwIfUnrecordable(path: string): void {
  if (isRecordablePath(path)) return;
  throw new QuaysideError({
    code: 'MANIFEST_NAME',
    sentence: `The path ${JSON.stringify(path)} cannot stand in a manifest: it must be relative, without "." or ".." parts, and of characters that XML allows. Store the file under a name that can be recorded.`,
    retry: 'never',
  });
}

/** Free text made safe for XML: what it cannot carry becomes U+FFFD. Never for paths, which must stay exact. */
export function readableText(text: string): string {
  return text.replaceAll(NOT_XML, '\u{FFFD}');
}

function isXmlText(text: string): boolean {
  return text.search(NOT_XML) === -1;
}

// Extensible Markup Language 1.0 (fifth edition), production 2, `Char`; with the `u` flag a lone surrogate is one character.
const NOT_XML = /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu;
