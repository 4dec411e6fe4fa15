import Builder from 'fast-xml-builder';

/** One element in the form that the builder takes: its name, its children or text, and its attributes under `:@`. */
export type Element = Readonly<Record<string, readonly Element[] | string | Attributes>>;
export type Attributes = Readonly<Record<string, string>>;

/** An element with children, or with text. Attributes that are null are left out. */
export function element(
  name: string,
  content: readonly Element[] | string,
  attributes: Readonly<Record<string, string | null>> = {},
): Element {
  const given = Object.entries(attributes).filter((pair): pair is [string, string] => pair[1] !== null);
  const children = typeof content === 'string' ? [{ '#text': content }] : content;
  return { [name]: children, ':@': Object.fromEntries(given) };
}

/** The document as UTF-8, with its declaration. Text comes back from any XML parser exactly as it was given. */
export function xmlBytes(root: Element): Uint8Array {
  const declaration: Element = { '?xml': [{ '#text': '' }], ':@': { version: '1.0', encoding: 'UTF-8' } };
  return Buffer.from(`${builder.build([declaration, root])}\n`);
}

const options = {
  preserveOrder: true,
  format: true,
  ignoreAttributes: false,
  attributeNamePrefix: '',
  // The builder's own list, and the white space that a parser would otherwise normalise (XML 1.0, sections 2.11 and 3.3.3).
  entities: [
    { regex: /&/g, val: '&amp;' },
    { regex: />/g, val: '&gt;' },
    { regex: /</g, val: '&lt;' },
    { regex: /'/g, val: '&apos;' },
    { regex: /"/g, val: '&quot;' },
    { regex: /\r/g, val: '&#13;' },
    { regex: /\n/g, val: '&#10;' },
    { regex: /\t/g, val: '&#9;' },
  ],
};

const builder = new Builder(options);
