import type { Division } from "../division.ts";
import type { Palette } from "../drawing/palette.ts";
import type { ReportInput } from "../input.ts";
import { type Markup, markup, raw } from "../markup.ts";

/** What every section is drawn from. */
export interface Context extends ReportInput {
  readonly palette: Palette;
  /** Null where nothing was divided by hand. */
  readonly division: Division | null;
}

/** Widths (CSS pixels) that drawings are laid out for: a desk, a sheet of A4 or a tablet, a phone. */
export const WIDTHS = { wide: 1040, mid: 700, slim: 328 } as const;
export type WidthName = keyof typeof WIDTHS;

/** The same drawing laid out for each width; the style sheet shows the one that fits. */
export function fitted(draw: (width: number, name: WidthName) => string): Markup {
  const names = Object.keys(WIDTHS) as WidthName[];
  return markup`${names.map((name) => markup`<div class="fit-${name}">${raw(draw(WIDTHS[name], name))}</div>`)}`;
}

/** A section with its heading, and a line on how to read it. */
export function section(id: string, title: string, hint: string | null, body: Markup): Markup {
  return markup`<section id="${id}" aria-labelledby="${id}-h"><header class="head"><h2 id="${id}-h">${title}</h2>${hint && markup`<p class="hint">${hint}</p>`}</header>${body}</section>`;
}
