import { type Document, isMap, isNode, isScalar, LineCounter, parseDocument } from "yaml";

/** Where something stands in `run.yaml`: keys and list indexes from the top. */
export type YamlPath = readonly (string | number)[];

/** A parsed YAML text that can say on which line a value or a key stands. */
export interface YamlText {
  readonly value: unknown;
  /** Line (1-based) of the value at `path`, or of the nearest thing above it that stands in the text. */
  lineOf(path: YamlPath): number;
  /** Line of a key of the map at `path`. */
  lineOfKey(path: YamlPath, key: string): number;
}

export interface YamlFault {
  readonly line: number;
  readonly message: string;
}

/** Parses YAML 1.2; every syntax fault comes with its line. */
export function parseYaml(text: string): { text: YamlText } | { faults: YamlFault[] } {
  const lines = new LineCounter();
  const doc = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  const lineAt = (offset: number) => Math.max(1, lines.linePos(offset).line);
  if (doc.errors.length > 0)
    return { faults: doc.errors.map((e) => ({ line: lineAt(e.pos[0]), message: syntaxWords(e.code, e.message) })) };
  try {
    return { text: { value: doc.toJS(), ...locator(doc, lineAt) } };
  } catch {
    return { faults: [{ line: 1, message: "aliases (*) that cannot be followed: write the values out" }] };
  }
}

function locator(doc: Document, lineAt: (offset: number) => number): Omit<YamlText, "value"> {
  const lineOf = (path: YamlPath): number => {
    for (let depth = path.length; depth >= 0; depth--) {
      const node = depth === 0 ? doc.contents : doc.getIn(path.slice(0, depth), true);
      if (isNode(node) && node.range) return lineAt(node.range[0]);
    }
    return 1;
  };
  const lineOfKey = (path: YamlPath, key: string): number => {
    const map = path.length === 0 ? doc.contents : doc.getIn(path, true);
    const pair = isMap(map) ? map.items.find((p) => isScalar(p.key) && String(p.key.value) === key) : undefined;
    return pair && isScalar(pair.key) && pair.key.range ? lineAt(pair.key.range[0]) : lineOf(path);
  };
  return { lineOf, lineOfKey };
}

function syntaxWords(code: string, message: string): string {
  if (code === "DUPLICATE_KEY") return "a key stands twice: keep one of them";
  if (code === "TAB_AS_INDENT") return "a tab used for indenting: use spaces";
  if (code === "MULTIPLE_DOCS") return "a second document (---): keep one";
  const first = message.split("\n")[0].replace(/\.$/, "");
  return `not valid YAML (${first.charAt(0).toLowerCase()}${first.slice(1)}): check brackets, colons, quotes and indenting`;
}
