/** Markup that is safe to write: it can only be made by the tags below, which escape whatever is put into them. */
export class Html {
  readonly #markup: string;

  private constructor(markup: string) {
    this.#markup = markup;
  }

  static readonly tag = (strings: TemplateStringsArray, ...values: readonly HtmlValue[]): Html =>
    new Html(strings.map((fixed, at) => fixed + write(values[at])).join(''));

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
