/** Text that is already HTML or SVG and is put in as it stands. */
export class Markup {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  toString(): string {
    return this.text;
  }
}

export type Part = string | number | Markup | null | undefined | false | readonly Part[];

/** Legal in no XML document, or able to turn the reading direction of what follows. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these very characters are to be taken out
const UNSAFE = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/g;
const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Text made safe for HTML and SVG, in content and in quoted attributes. */
export function escapeText(text: string): string {
  return text
    .replace(/\p{Surrogate}/gu, "\ufffd")
    .replace(UNSAFE, "\ufffd")
    .replace(/[&<>"']/g, (c) => ENTITIES[c]);
}

function render(part: Part): string {
  if (part === null || part === undefined || part === false) return "";
  if (part instanceof Markup) return part.text;
  if (typeof part === "string") return escapeText(part);
  if (typeof part === "number") return coordinate(part);
  return part.map(render).join("");
}

/** Template tag: every value is escaped, unless it is `Markup`; lists are joined, null and false leave nothing. */
export function markup(strings: TemplateStringsArray, ...parts: readonly Part[]): Markup {
  return new Markup(strings.reduce((text, s, i) => text + render(parts[i - 1]) + s));
}

/** Puts in text that this program itself made as HTML or SVG. */
export function raw(text: string): Markup {
  return new Markup(text);
}

/** A number for a drawing: at most two decimals, no exponent, no negative zero; what is not finite becomes 0. */
export function coordinate(value: number): string {
  if (!Number.isFinite(value)) return "0";
  const text = String(Math.round(value * 100) / 100);
  return text === "-0" ? "0" : text;
}
