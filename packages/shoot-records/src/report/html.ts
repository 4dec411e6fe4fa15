/** Markup that is safe to write: it can only be made by the tags below, which escape whatever is put into them. */
export class Html {
  readonly #markup: string;

  private constructor(markup: string) {
    this.#markup = markup;
  }

  static readonly tag = (strings: TemplateStringsArray, ...values: readonly HtmlValue[]): Html =>
    new Html(
      withoutIndent(strings)
        .map((fixed, at) => fixed + write(values[at]))
        .join(''),
    );

  static readonly fixed = (strings: TemplateStringsArray): Html => new Html(strings.join(''));

  toString(): string {
    return this.#markup;
  }
}

/** What may stand in a template: text and numbers are escaped, nothing is written for null, lists one after the other. */
export type HtmlValue = Html | string | number | null | undefined | readonly HtmlValue[];

/** HTML or SVG with values in it, in elements' text or in quoted attributes. */
export const html = Html.tag;

/** Text that is written as it stands, such as a style sheet: it takes no values. */
export const fixedText = Html.fixed;

const flattened = new WeakMap<TemplateStringsArray, readonly string[]>();

/** A template's own text without the indentation that it has in the source: a blank between elements means the same. */
function withoutIndent(strings: TemplateStringsArray): readonly string[] {
  const known = flattened.get(strings);
  if (known !== undefined) return known;
  const flat = strings.map((fixed) => fixed.replaceAll(/\n\s*/g, '\n'));
  flattened.set(strings, flat);
  return flat;
}

function write(value: HtmlValue): string {
  if (value === null || value === undefined) return '';
  if (value instanceof Html) return value.toString();
  if (typeof value === 'number') return String(Math.round(value * 100) / 100);
  if (typeof value === 'string') return value.toWellFormed().replaceAll(/[&<>"']/g, (found) => ENTITIES[found] ?? '');
  return value.map(write).join('');
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
