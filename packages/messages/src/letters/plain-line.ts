/**
 * Text as one line that says what it seems to say: control characters, line breaks and marks that change the direction of
 * writing become spaces. File names come from drives and may hold anything.
 */
export function plainLine(text: string): string {
  return text
    .replaceAll(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]+/gu, ' ')
    .replaceAll(/ {2,}/g, ' ')
    .trim();
}
