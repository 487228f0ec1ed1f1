import { type DefaultTreeAdapterMap, defaultTreeAdapter, type ParserError, parse } from "parse5";

type Node = DefaultTreeAdapterMap["node"];
export type Element = DefaultTreeAdapterMap["element"];

export interface ReadPage {
  readonly elements: readonly Element[];
  readonly errors: readonly string[];
  /** All that a reader sees, style left out. */
  readonly text: string;
}

export const attribute = (e: Element, name: string) => e.attrs.find((a) => a.name === name)?.value;

export function textOf(node: Node): string {
  if (defaultTreeAdapter.isTextNode(node)) return node.value;
  if (defaultTreeAdapter.isElementNode(node) && ["style", "title"].includes(node.tagName)) return "";
  return "childNodes" in node ? node.childNodes.map(textOf).join("") : "";
}

/** A page as an HTML parser takes it. */
export function readPage(html: string): ReadPage {
  const errors: ParserError[] = [];
  const document = parse(html, { sourceCodeLocationInfo: true, onParseError: (e) => errors.push(e) });
  const elements: Element[] = [];
  const walk = (node: Node) => {
    if (defaultTreeAdapter.isElementNode(node)) elements.push(node);
    if ("childNodes" in node) node.childNodes.forEach(walk);
  };
  walk(document);
  return { elements, errors: errors.map((e) => `${e.code} at ${e.startLine}:${e.startCol}`), text: textOf(document) };
}
