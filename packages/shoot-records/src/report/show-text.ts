/**
 * Text from outside as it can be shown: what has no picture, breaks the line or turns the direction of the text round
 * stands as its code, `\u{202e}`. Everything else stays as it is.
 */
export function showText(text: string): string {
  return text
    .toWellFormed()
    .replaceAll(UNSHOWABLE, (found) => `\\u{${(found.codePointAt(0) ?? 0).toString(16).padStart(4, '0')}}`);
}

/** Controls, line and paragraph separators, and what Unicode calls formatting characters, of which joiners within scripts stay. */
const UNSHOWABLE = /(?![\u200C\u200D])[\p{Cc}\p{Zl}\p{Zp}\p{Cf}]/gu;

/** The text in at most `length` columns: its middle gives way to an ellipsis, since numbers stand at the end of names. */
export function shortenMiddle(text: string, length: number): string {
  if (columnsOf(text) <= length) return text;
  const characters = [...CHARACTERS.segment(text)].map(({ segment }) => segment);
  const most = length - 1;
  const tail: string[] = [];
  const head: string[] = [];
  let columns = 0;
  const takeFrom = (end: 'head' | 'tail'): boolean => {
    const character = (end === 'head' ? characters.shift() : characters.pop()) ?? '';
    columns += columnsOf(character);
    if (columns > most) return false;
    if (end === 'head') head.push(character);
    else tail.unshift(character);
    return true;
  };
  for (let at = 0; characters.length > 0 && takeFrom(at % 3 === 2 ? 'head' : 'tail');) at += 1;
  return `${head.join('')}…${tail.join('')}`;
}

/** Characters as people see them: what is combined stays together. */
const CHARACTERS = new Intl.Segmenter('en');

/** How many narrow characters wide a text is, about: those of East Asian scripts and pictures count twice. */
function columnsOf(text: string): number {
  let columns = 0;
  for (const character of text) columns += (character.codePointAt(0) ?? 0) >= 0x1100 ? 2 : 1;
  return columns;
}
