import { markup, raw } from "../markup.ts";

/**
 * The "bright" qualitative scheme of P. Tol, Colour Schemes, SRON/EPS/TN/09-002, issue 3.2 (2021), made to be told
 * apart by colour-blind readers; values from memory. Blue, red, green, yellow, cyan, purple.
 */
export const TOL_BRIGHT = ["#4477AA", "#EE6677", "#228833", "#CCBB44", "#66CCEE", "#AA3377"] as const;
/** Grey of the same scheme: what belongs to no component. */
export const TOL_GREY = "#BBBBBB";

/** How one component is drawn: always a letter and a pattern besides the colour. */
export interface Tone {
  readonly component: string;
  /** What stands beside its spots. */
  readonly letter: string;
  readonly colour: string;
  /** Value for `fill`: a pattern of `toneDefs`, or the plain colour for the first. */
  readonly fill: string;
}

export interface Palette {
  readonly tones: readonly Tone[];
  /** Starts the ids of its patterns, so that two palettes can stand in one document. */
  readonly prefix: string;
}

/** Marks on a tile of 8 x 8 units; the first component is plain, the others differ by pattern too. */
const MARKS = [
  "",
  "M-2 2L2 -2M-2 10L10 -2M6 10L10 6",
  "M2 2h.01M6 6h.01",
  "M-2 6L2 10M-2 -2L10 10M6 -2L10 2",
  "M0 2H8M0 6H8",
  "M2 0V8M6 0V8",
  "M0 4H8M4 0V8",
  "M0 0L8 8M8 0L0 8",
];
const DOTS = 2;

/** Tones for the components in the order given (that of elution); from the seventh on colours return with other patterns. */
export function paletteOf(components: readonly string[], prefix = "tone"): Palette {
  const tones = components.map((component, i) => ({
    component,
    letter: component.length <= 2 ? component : component.slice(0, 2),
    colour: TOL_BRIGHT[i % TOL_BRIGHT.length],
    fill: i % MARKS.length === 0 ? TOL_BRIGHT[i % TOL_BRIGHT.length] : `url(#${prefix}-${i})`,
  }));
  return { tones, prefix };
}

/** The tone of a component; grey and a question mark for null and for one the palette does not know. */
export function toneOf(palette: Palette, component: string | null): Tone {
  const tone = palette.tones.find((t) => t.component === component);
  return (
    tone ?? { component: component ?? "", letter: component?.slice(0, 2) ?? "?", colour: TOL_GREY, fill: TOL_GREY }
  );
}

/** The patterns as an SVG of no size; stands once in a document, before the drawings that use the palette. */
export function toneDefs(palette: Palette): string {
  const patterns = palette.tones.map((tone, i) => {
    const marks = i % MARKS.length;
    if (marks === 0) return null;
    const width = marks === DOTS ? 2.6 : 1.5;
    return markup`<pattern id="${palette.prefix}-${String(i)}" width="8" height="8" patternUnits="userSpaceOnUse"><rect width="8" height="8" fill="${tone.colour}"/><path d="${MARKS[marks]}" fill="none" stroke="${markOn(tone.colour)}" stroke-width="${width}" stroke-linecap="round"/></pattern>`;
  });
  return markup`<svg class="defs" width="0" height="0" aria-hidden="true" focusable="false"><defs>${patterns}</defs></svg>`
    .text;
}

/** White on the dark colours of the scheme, near black on the light ones. */
function markOn(colour: string): string {
  return colour === "#CCBB44" || colour === "#66CCEE" ? "#222222" : "#FFFFFF";
}

/** A small square in the component's tone, to stand before its letter in running text. */
export function toneChip(palette: Palette, component: string | null): string {
  return markup`<svg class="chip" viewBox="0 0 12 12" width="12" height="12" aria-hidden="true" focusable="false"><rect x=".5" y=".5" width="11" height="11" rx="2" fill="${raw(toneOf(palette, component).fill)}" class="d-rim"/></svg>`
    .text;
}
