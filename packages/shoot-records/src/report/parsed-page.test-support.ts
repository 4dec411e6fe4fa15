import { type DefaultTreeAdapterTypes, parse } from 'parse5';

type Node = DefaultTreeAdapterTypes.ChildNode;
export type Element = DefaultTreeAdapterTypes.Element;

/** A page as a parser that is none of ours (parse5, the WHATWG algorithm) builds it: every element in document order. */
export function elementsOf(page: string): readonly Element[] {
  return parse(page).childNodes.flatMap(elementsIn);
}

function elementsIn(node: Node): readonly Element[] {
  if (!('tagName' in node)) return [];
  return [node, ...node.childNodes.flatMap(elementsIn)];
}

export function textOf(node: Node): string {
  if (node.nodeName === '#text' && 'value' in node) return node.value;
  return 'childNodes' in node ? node.childNodes.map(textOf).join('') : '';
}

export function attribute(element: Element, name: string): string | null {
  return element.attrs.find((one) => one.name === name)?.value ?? null;
}

export function withTag(elements: readonly Element[], tag: string): readonly Element[] {
  return elements.filter((element) => element.tagName === tag);
}

export function withClass(elements: readonly Element[], name: string): readonly Element[] {
  return elements.filter((element) => attribute(element, 'class')?.split(' ').includes(name) === true);
}
