import { figureCentres } from "../figures.ts";
import type { MarkRow } from "../view.ts";

/** How far below its mark a figure is written, as a share of the height. */
export const UNDER = { least: 0.02, most: 0.15 };

/** A mark stands over a figure where it lies within the figure's width and so much of the plate's at either side. */
const BESIDE = 0.02;
/** Share of a row's marks that stand over figures, and how likely chance would do as much. */
const MOST_OF_THEM = 0.6;
const CHANCE = 0.1;

/**
 * True where the marks of one row stand over the signs of a lower one, more of them than chance would put there: the upper
 * are the lanes' origins then, the lower their figures.
 */
export function standsOverFigures(upper: MarkRow, lower: MarkRow, width: number, height: number): boolean {
  const below = (lower.y - upper.y) / height;
  if (below < UNDER.least || below > UNDER.most) return false;
  const { over, marks, covered } = marksOver(upper, lower, width);
  return over >= 2 && over >= MOST_OF_THEM * marks && atLeast(over, marks, covered) < CHANCE;
}

/** How many marks of the upper row stand over one of the lower row, and what share of the width the lower row covers. */
function marksOver(upper: MarkRow, lower: MarkRow, width: number): { over: number; marks: number; covered: number } {
  const spans = lower.marks.map((m) => [m.x0 - BESIDE * width, m.x1 + BESIDE * width] as const);
  const centres = figureCentres(upper, width);
  const over = centres.filter((x) => spans.some(([x0, x1]) => x >= x0 && x <= x1)).length;
  let covered = 0;
  let end = 0;
  for (const [x0, x1] of spans.sort((a, b) => a[0] - b[0])) {
    covered += Math.max(0, Math.min(width, x1) - Math.max(end, x0));
    end = Math.max(end, x1);
  }
  return { over, marks: centres.length, covered: covered / width };
}

/** Probability of at least k of n where each has probability p. */
function atLeast(k: number, n: number, p: number): number {
  let term = (1 - p) ** n;
  let below = 0;
  for (let i = 0; i < k; i++) {
    below += term;
    term *= ((n - i) / (i + 1)) * (p / (1 - p));
  }
  return 1 - below;
}
