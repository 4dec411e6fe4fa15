/** JSON whose texts are all well-formed Unicode, since strict readers refuse a lone surrogate; ends with a line break. */
export function jsonText(value: unknown): string {
  const text = JSON.stringify(
    value,
    (_key, part: unknown) => (typeof part === 'string' ? part.toWellFormed() : part),
    1,
  );
  return `${text}\n`;
}
