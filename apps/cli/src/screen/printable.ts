/**
 * Text from a drive made safe for a terminal: what could move the cursor, change colours, hide or reorder text, and bytes
 * that are no characters, are shown as escapes.
 */
export function printable(text: string): string {
  return text.replace(UNSAFE, (char) => {
    const code = char.codePointAt(0) ?? 0;
    // A lone surrogate U+DC80..U+DCFF stands for one byte that is no UTF-8.
    if (code >= 0xdc80 && code <= 0xdcff) return `\\x${(code - 0xdc00).toString(16)}`;
    return SHORT[char] ?? `\\u{${code.toString(16)}}`;
  });
}

// Control characters, format characters (which reorder or hide text), line and paragraph separators, lone surrogates.
const UNSAFE = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu;

const SHORT: Readonly<Record<string, string>> = { '\n': '\\n', '\r': '\\r', '\t': '\\t' };
