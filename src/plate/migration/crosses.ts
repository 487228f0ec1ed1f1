import type { Patch } from "../../raster/components.ts";
import type { Plane } from "../../raster/picture.ts";
import { CLEAR, rowsOfMarks, smallMarks } from "../marks/rows.ts";
import type { SignalMap } from "../view.ts";
import { type RowCurve, weightedParabola } from "./curves.ts";

/** Crosses in one row that mark a front, and the curve through their middles. */
export interface FrontCrosses extends RowCurve {
  readonly count: number;
  /** How far their middles lie off the curve, in rows. */
  readonly rms: number;
}

/** Rows looked at: down to this share of the height. */
const LOWEST = 0.4;
/** A front may be bowed: crosses lie so far off one straight row, as a share of the height. */
const OFF_ROW = 0.02;
/** Three at least, and no more than hands draw across a plate: figures stand at every lane. */
const COUNT = { least: 3, most: 6 };
/** They reach over so much of the width. */
const SPAN = 0.5;
/** How long one arm may be, the other being 1. */
const SQUARE = 1.7;
/** Each arm's end holds at least this share of a cross, the corners together no more than that. */
const ARM = 0.06;
const CORNERS = 0.16;
/** How much a middle counts against the prior that fronts are straight. */
const WEIGHT = 4;

/** Where a row of small crosses lies that may mark the front: people draw some who draw no line across the layer. */
export function frontCrosses({ strokes, strokeNoise, width, height }: SignalMap): FrontCrosses[] {
  const rows = Math.floor(LOWEST * height);
  const head = { width, height: rows, data: strokes.data.subarray(0, rows * width) };
  const crosses = smallMarks(head, 0, CLEAR * strokeNoise, { height }).filter((mark) => isCross(mark, head));
  return rowsOfMarks(crosses, width, height, OFF_ROW * height).flatMap(({ marks, y, tilt }) => {
    const us = marks.map((m) => m.cx / width);
    if (marks.length < COUNT.least || marks.length > COUNT.most) return [];
    if (Math.max(...us) - Math.min(...us) < SPAN) return [];
    const ys = marks.map((m) => m.cy + 0.5);
    const weights = marks.map(() => WEIGHT);
    const curve = weightedParabola(us, ys, weights, { y, tilt, bow: 0 }, true);
    return [{ ...curve, count: marks.length, rms: 0.004 * height }];
  });
}

/** Two strokes that cross in the middle: the four corners of its box are empty, the four ends are not. */
function isCross({ x0, y0, x1, y1 }: Patch, strokes: Plane): boolean {
  const [w, h] = [x1 - x0, y1 - y0];
  if (Math.max(w, h) > SQUARE * Math.min(w, h)) return false;
  const cells = new Float64Array(9);
  let sum = 0;
  for (let y = y0; y < y1; y++)
    for (let x = x0; x < x1; x++) {
      const v = Math.max(0, strokes.data[y * strokes.width + x]);
      cells[3 * Math.floor((3 * (y - y0)) / h) + Math.floor((3 * (x - x0)) / w)] += v;
      sum += v;
    }
  const [upperLeft, upper, upperRight, left, , right, lowerLeft, lower, lowerRight] = cells;
  return (
    Math.min(upper, left, right, lower) > ARM * sum && upperLeft + upperRight + lowerLeft + lowerRight < CORNERS * sum
  );
}
