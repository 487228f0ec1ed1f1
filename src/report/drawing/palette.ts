/**
 * The "bright" qualitative scheme of P. Tol, Colour Schemes, SRON/EPS/TN/09-002, issue 3.2 (2021), made to be told
 * apart by colour-blind readers; values from memory. Blue, red, green, yellow, cyan, purple.
 */
export const TOL_BRIGHT = ["#4477AA", "#EE6677", "#228833", "#CCBB44", "#66CCEE", "#AA3377"] as const;
/** Grey of the same scheme: what belongs to no component. */
export const TOL_GREY = "#BBBBBB";
/** The scheme's light members: marks on them are dark, and lines in them need a dark neighbour. */
const LIGHT_ONES: readonly string[] = ["#CCBB44", "#66CCEE", TOL_GREY];

/** Marks over a fill; the first component goes without. */
export const MARKS = ["plain", "rising", "dots", "falling", "level", "upright", "grid", "crossed"] as const;
export type Marks = (typeof MARKS)[number];

/** How one component is drawn: always a letter and marks besides the colour. */
export interface Tone {
  readonly component: string;
  /** What stands beside its spots. */
  readonly letter: string;
  readonly colour: string;
  readonly marks: Marks;
  /** Colour of the marks: white on the dark colours of the scheme, near black on the light ones. */
  readonly markColour: string;
}

export type Palette = readonly Tone[];

/** What holds several components, where there is no room to show which. */
export const MIXED_TONE: Tone = tone("", TOL_GREY, "rising");

/** Tones for the components in the order given (that of elution); from the seventh on colours return with other marks. */
export function paletteOf(components: readonly string[]): Palette {
  return components.map((component, i) => tone(component, TOL_BRIGHT[i % TOL_BRIGHT.length], MARKS[i % MARKS.length]));
}

/** The tone of a component; grey for null and for one the palette does not know. */
export function toneOf(palette: Palette, component: string | null): Tone {
  return palette.find((t) => t.component === component) ?? tone(component ?? "?", TOL_GREY, "plain");
}

function tone(component: string, colour: string, marks: Marks): Tone {
  const markColour = LIGHT_ONES.includes(colour) ? "#222222" : "#FFFFFF";
  return { component, letter: [...component].slice(0, 2).join(""), colour, marks, markColour };
}
