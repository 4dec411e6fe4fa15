/** Text as it may stand in XML 1.0: marks escaped, and what XML cannot hold shown as a replacement character. */
export function xmlText(text: string): string {
  return text
    .toWellFormed()
    .replaceAll(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, '\uFFFD')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}
