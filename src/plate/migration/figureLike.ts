import { figureCentres } from "../figures.ts";
import type { MarkRow } from "../view.ts";

/**
 * Logistic regression on 4188 rows of marks of nine renderers, each at an origin or below one: figures stand lower, are taller than
 * ticks and dots, less slender and less square, often of two digits, and of unlike widths and heights, where marks are alike.
 */
const WEIGHTS = {
  bias: -5.29,
  low: 1.98,
  tall: 1.03,
  slender: -4.5,
  digits: 0.57,
  broad: -1.28,
  heights: 4.56,
  widths: 3.16,
  oblong: 1.59,
};

/** A mark is slender that is so many times longer than wide. */
const SLENDER = 2.2;
/** The pieces of a dotted line are no digits: no more count. */
const MOST_DIGITS = 3;

/** Probability that a row of marks of which nothing else is known is the lanes' figures rather than their origin. */
export function figureOdds(row: MarkRow, width: number, height: number): number {
  const high = sizesOf(row.marks.map((m) => m.y1 - m.y0));
  const wide = sizesOf(row.marks.map((m) => m.x1 - m.x0));
  const signs = {
    low: (row.y / height - 0.88) / 0.03,
    tall: high.median / height / 0.01,
    slender: row.broad ? 0 : slenderShare(row),
    digits: Math.min(MOST_DIGITS, row.marks.length / figureCentres(row, width).length),
    broad: row.broad ? 1 : 0,
    heights: high.spread,
    widths: wide.spread,
    oblong: Math.abs(Math.log(wide.median / high.median)),
  };
  const { bias, ...weights } = WEIGHTS;
  const names = Object.keys(weights) as (keyof typeof weights)[];
  return 1 / (1 + Math.exp(-names.reduce((sum, name) => sum + weights[name] * signs[name], bias)));
}

/** Median, and standard deviation of the logarithms. */
function sizesOf(sizes: readonly number[]): { median: number; spread: number } {
  const sorted = [...sizes].sort((a, b) => a - b);
  const logs = sizes.map(Math.log);
  const mean = logs.reduce((sum, v) => sum + v, 0) / logs.length;
  const spread = Math.sqrt(logs.reduce((sum, v) => sum + (v - mean) ** 2, 0) / logs.length);
  return { median: sorted[sorted.length >> 1], spread };
}

/** Share of a row's marks that are upright or level strokes: ticks, and no figures but ones. */
export function slenderShare({ marks }: MarkRow): number {
  const slender = marks.filter(
    ({ x0, y0, x1, y1 }) => Math.max(x1 - x0, y1 - y0) > SLENDER * Math.min(x1 - x0, y1 - y0),
  );
  return slender.length / marks.length;
}
