/**
 * Colours of paper and ink, light and dark. Text pairs (ink, soft, doubt on paper and card) keep WCAG 2.2's AA
 * contrast of 4.5, edges that carry meaning 3; a test computes both.
 */
export const THEME = {
  light: {
    paper: "#fbfcfc",
    card: "#f1f4f4",
    ink: "#1f2a2e",
    soft: "#55646a",
    line: "#d3dbdd",
    edge: "#7b898e",
    doubt: "#9c3d10",
    link: "#22606e",
  },
  dark: {
    paper: "#15191b",
    card: "#1e2426",
    ink: "#e4eaeb",
    soft: "#a2b0b4",
    line: "#333d41",
    edge: "#76858a",
    doubt: "#f0a27e",
    link: "#8cc6d3",
  },
} as const;

/** Custom properties of one theme, as CSS declarations. */
export function themeDeclarations(theme: Readonly<Record<string, string>>): string {
  return Object.entries(theme)
    .map(([name, colour]) => `--${name}:${colour}`)
    .join(";");
}

/** Style of the drawing parts; needs the custom properties of `THEME` on an element around them. */
export const DRAWING_CSS = `
.defs{position:absolute}
.drawing{display:block;width:100%;height:auto;font-variant-numeric:tabular-nums}
.drawing text{fill:var(--ink)}
.drawing .d-strong{font-weight:650}
.drawing .d-soft{fill:var(--soft)}
.drawing .d-doubttext{fill:var(--doubt);font-weight:650}
.d-rim{stroke:var(--ink);stroke-width:.7;stroke-opacity:.75}
.d-rack{fill:var(--card);stroke:var(--line)}
.d-glass{fill:var(--paper);stroke:var(--edge);stroke-width:1.2}
.d-hub{fill:var(--paper);stroke:var(--edge);stroke-width:.6}
.d-unseen .d-glass{stroke-dasharray:3.5 3}
.d-unseen .d-fill{opacity:.45}
.d-void .d-hub{stroke:none}
.d-doubt{fill:var(--doubt);stroke:var(--paper);stroke-width:1.2}
.drawing .d-doubtmark{fill:var(--paper);font-weight:700}
.d-cap{fill:none;stroke:var(--ink);stroke-width:1.3}
.d-other{fill:none;stroke:var(--edge);stroke-width:1.2;stroke-dasharray:5 3}
.d-emptybar{fill:none;stroke:var(--edge);stroke-dasharray:3 3}
.d-nophoto,.d-unspotted{fill:none;stroke:var(--edge);stroke-width:.8;stroke-dasharray:3 3}
.d-tickhalo{fill:none;stroke:#000;stroke-width:2.2;stroke-opacity:.55}
.d-tick{fill:none;stroke:#fff;stroke-width:1}
.d-elsewhere{opacity:.4}
.d-whisker{fill:none;stroke:var(--ink);stroke-width:1.6}
.d-mid{fill:var(--ink)}
.d-unnamed{fill:none;stroke:var(--edge);stroke-width:.8}
.d-axis{stroke:var(--edge);stroke-width:.8}
.d-guide{fill:none;stroke:var(--edge);stroke-width:.7;stroke-dasharray:1 2.4}
.d-area{fill-opacity:.8}
.d-band{fill:var(--ink);fill-opacity:.2;stroke:none}
.d-line{fill:none;stroke:var(--ink);stroke-width:1.4;stroke-linejoin:round}
.d-dot{fill:var(--paper);stroke:var(--ink);stroke-width:1}
.d-base{fill:none;stroke:var(--line);stroke-width:1}
.chip{vertical-align:-.1em;margin-right:.3em}
`;
