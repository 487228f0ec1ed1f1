import { figureCentres } from "../figures.ts";
import type { MarkRow } from "../view.ts";

/**
 * Logistic regression on 1661 rows of marks of two renderers, each at an origin or below one: figures stand lower, are taller
 * than ticks and dots, less slender, and have two digits or more.
 */
const WEIGHTS = { bias: -3.09, low: 1.69, tall: 0.81, slender: -3.26, digits: 1.53, broad: -1.2 };

/** A mark is slender that is so many times longer than wide. */
const SLENDER = 2.2;

/** Probability that a row of marks of which nothing else is known is the lanes' figures rather than their origin. */
export function figureOdds(row: MarkRow, width: number, height: number): number {
  const heights = row.marks.map((m) => m.y1 - m.y0).sort((a, b) => a - b);
  const tall = heights[heights.length >> 1] / height / 0.01;
  const slender = row.broad ? 0 : slenderShare(row);
  const digits = row.marks.length / figureCentres(row, width).length;
  const { bias, low, broad } = WEIGHTS;
  const score =
    bias +
    low * ((row.y / height - 0.88) / 0.03) +
    WEIGHTS.tall * tall +
    WEIGHTS.slender * slender +
    WEIGHTS.digits * digits +
    (row.broad ? broad : 0);
  return 1 / (1 + Math.exp(-score));
}

/** Share of a row's marks that are upright or level strokes: ticks, and no figures but ones. */
export function slenderShare({ marks }: MarkRow): number {
  const slender = marks.filter(
    ({ x0, y0, x1, y1 }) => Math.max(x1 - x0, y1 - y0) > SLENDER * Math.min(x1 - x0, y1 - y0),
  );
  return slender.length / marks.length;
}
