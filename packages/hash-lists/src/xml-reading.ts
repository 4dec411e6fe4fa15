import { parseXml, XmlElement, XmlText } from '@rgrove/parse-xml';

/** An XML document that has been checked to be well-formed. */
export interface XmlSource {
  readonly root: XmlElement;
  /** The document's characters, for `exactText`. */
  readonly characters: string;
}

/**
 * Reads a document as XML 1.0 in UTF-8. The parser expands no entity but the five of XML itself, and fetches nothing.
 * @throws Error naming the first fault, for anything that is not well-formed.
 */
export function readXml(bytes: Uint8Array): XmlSource {
  const decoded = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  // Done here as well as in the parser, so that its offsets fit our characters.
  const characters = decoded.replaceAll(/\r\n?/g, '\n');
  const { root } = parseXml(characters, { includeOffsets: true });
  if (root === null) throw new Error('it holds no element');
  return { root, characters };
}

/** The element's name without its namespace prefix. */
export function localName(element: XmlElement): string {
  return element.name.slice(element.name.indexOf(':') + 1);
}

/** The namespace that the root element is in, by its own declarations. */
export function rootNamespace(root: XmlElement): string | undefined {
  const colon = root.name.indexOf(':');
  return root.attributes[colon === -1 ? 'xmlns' : `xmlns:${root.name.slice(0, colon)}`];
}

/** The child elements of this local name, in document order. */
export function childrenNamed(parent: XmlElement | undefined, name: string): XmlElement[] {
  return elementsIn(parent).filter((child) => localName(child) === name);
}

/** The child elements, in document order. */
export function elementsIn(parent: XmlElement | undefined): XmlElement[] {
  return (parent?.children ?? []).filter((child) => child instanceof XmlElement);
}

/** The text of the first child of this name without surrounding white space, or an empty string. */
export function childText(parent: XmlElement | undefined, name: string): string {
  return childrenNamed(parent, name)[0]?.text.trim() ?? '';
}

/**
 * The element's text with every space that belongs to it. Only the line breaks and indentation of a pretty-printed
 * document go: a name that really begins with a line break can only be written as a character reference.
 */
export function exactText(element: XmlElement, { characters }: XmlSource): string {
  const { text } = element;
  const written = element.children
    .filter((child) => child instanceof XmlText)
    .map((child) => characters.slice(child.start, child.end))
    .join('');
  const start = /^[ \t]*\n/.test(written) ? text.search(/\S/) : 0;
  const end = /\n[ \t]*$/.test(written) ? text.trimEnd().length : text.length;
  return start === -1 ? '' : text.slice(start, end);
}
