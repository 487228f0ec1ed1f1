import { connectedPatches, maskAbove, type Patch } from "../../raster/components.ts";
import type { Plane } from "../../raster/picture.ts";
import { CLEAR, rowsOfMarks, strongest } from "../marks/rows.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { type RowCurve, weightedParabola } from "./curves.ts";

/** Crosses in one row, and the curve through their middles. */
export interface CrossRow extends RowCurve {
  readonly count: number;
}

/** Fronts lie above this share of the height, origins below that one. */
const FRONT_TO = 0.4;
const ORIGIN_FROM = 0.6;
/** A front may be bowed: crosses lie so far off one straight row, as a share of the height; origins are drawn along a ruler. */
const OFF_ROW = { front: 0.02, origin: 0.008 };
/** Three at least; a front is marked in a few places, no more. */
const COUNT = { least: 3, mostOfFront: 6 };
/** A front's reach over so much of the width. */
const SPAN = 0.5;
/** How much a middle counts against the prior that fronts are straight. */
const WEIGHT = 4;

/** Where a row of small crosses lies that may mark the front: people draw some who draw no line across the layer. */
export function frontCrosses(map: SignalMap): CrossRow[] {
  const { width } = map;
  return crossRows(map, 0, FRONT_TO, OFF_ROW.front).flatMap(({ marks, y, tilt }) => {
    const us = marks.map((m) => m.cx / width);
    if (marks.length > COUNT.mostOfFront || Math.max(...us) - Math.min(...us) < SPAN) return [];
    const ys = marks.map((m) => m.cy);
    const weights = marks.map(() => WEIGHT);
    return [{ ...weightedParabola(us, ys, weights, { y, tilt, bow: 0 }, true), count: marks.length }];
  });
}

/** Rows of crosses that may be the lanes' origins, be they ever so close above figures, and of ticks that stand on their figures. */
export function originCrosses(map: SignalMap): CrossRow[] {
  return crossRows(map, ORIGIN_FROM, 1, OFF_ROW.origin, true).map(({ marks, y, tilt }) => {
    return { y, tilt, bow: 0, count: marks.length };
  });
}

function crossRows(
  { strokes, strokeNoise, width, height }: SignalMap,
  from: number,
  to: number,
  off: number,
  ticks = false,
) {
  const [first, last] = [Math.round(from * height), Math.floor(to * height)];
  const part = { width, height: last - first, data: strokes.data.subarray(first * width, last * width) };
  const faint = FAINT * CLEAR * strokeNoise;
  const mask = maskAbove(part.data, faint, 0);
  const longer = Math.max(width, height);
  const patches = connectedPatches(mask, width, part.height, LEAST_AREA);
  const whole = patches.map(
    (patch) => crossIn(patch, part, faint, longer) ?? (ticks ? tickOn(patch, part, faint, longer) : null),
  );
  // Beside a whole cross lies grain; what is none may be pieces of one.
  const pieces = joined(
    patches.filter((_, i) => whole[i] === null),
    JOINED * longer,
  ).map((patch) => crossIn(patch, part, faint, longer));
  const marks = [...whole, ...pieces].flatMap((m) =>
    m !== null && strongest(part, m) > CLEAR * strokeNoise ? [m] : [],
  );
  const below = marks.map((m) => ({ ...m, y0: m.y0 + first, y1: m.y1 + first, cy: m.cy + first }));
  const rows: MarkRow[] = rowsOfMarks(below, width, height, off * height);
  return rows.filter((row) => row.marks.length >= COUNT.least);
}

/** Strokes are followed down to this share of a clear mark's strength. */
const FAINT = 0.4;
const LEAST_AREA = 6;
/** Pieces nearer to each other are of one mark, where two strokes make too broad a place for a stroke: share of the longer side. */
const JOINED = 0.006;
/** Crosses are no smaller and no larger, as shares of the longer side. */
const SIZE = { least: 0.018, most: 0.05 };

function joined(patches: readonly Patch[], gap: number): Patch[] {
  const whole: Patch[] = [];
  for (const one of patches) {
    let grown = one;
    for (let k = whole.length - 1; k >= 0; k--) {
      const other = whole[k];
      if (apart(grown, other) > gap) continue;
      grown = around(grown, other);
      whole.splice(k, 1);
      // What grew may reach pieces that were passed over.
      k = whole.length;
    }
    whole.push(grown);
  }
  return whole;
}

function apart(a: Patch, b: Patch): number {
  return Math.max(a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1);
}

function around(a: Patch, b: Patch): Patch {
  const area = a.area + b.area;
  const mean = (p: number, q: number) => (p * a.area + q * b.area) / area;
  return {
    ...{ x0: Math.min(a.x0, b.x0), x1: Math.max(a.x1, b.x1), y0: Math.min(a.y0, b.y0), y1: Math.max(a.y1, b.y1) },
    ...{ area, cx: mean(a.cx, b.cx), cy: mean(a.cy, b.cy) },
  };
}

/** How long one side of a cross may be, the other being 1. */
const SQUARE = 1.35;

/** The cross that a mark is, or that stands on top of a figure it touches: its upper part that is most like one; null: none. */
function crossIn(mark: Patch, strokes: Plane, faint: number, longer: number): Patch | null {
  const smallest = Math.ceil(SIZE.least * longer);
  let best: { readonly patch: Patch; readonly plain: number } | null = null;
  for (let h = smallest; h <= Math.min(SIZE.most * longer, mark.y1 - mark.y0); h++) {
    const own = upperPart(mark, h, strokes, faint);
    const w = own.x1 - own.x0;
    if (w < smallest || w > SQUARE * h || h > SQUARE * w) continue;
    const plain = crossness(own, strokes);
    if (plain > (best?.plain ?? 0)) best = { patch: own, plain };
  }
  if (best === null) return null;
  const { x0, x1, y0, y1 } = best.patch;
  return { ...best.patch, cx: (x0 + x1) / 2, cy: (y0 + y1) / 2 };
}

/** A tick is so many times as long as wide at least, this share of the mark that it stands on, and that is so many times as wide. */
const TICK = { slender: 2.2, from: 0.22, to: 0.6, wider: 1.7 };

/** The tick that stands on a figure it touches: its upper rows, as far as they are narrow; null: none. */
function tickOn(mark: Patch, strokes: Plane, faint: number, longer: number): Patch | null {
  const whole = mark.y1 - mark.y0;
  if (whole > 2 * SIZE.most * longer || mark.x1 - mark.x0 > 2 * SIZE.most * longer) return null;
  let tick: Patch | null = null;
  for (let h = Math.ceil(TICK.from * whole); h <= TICK.to * whole; h++) {
    const own = upperPart(mark, h, strokes, faint);
    if (h >= TICK.slender * (own.x1 - own.x0)) tick = own;
  }
  if (tick === null || mark.x1 - mark.x0 < TICK.wider * (tick.x1 - tick.x0)) return null;
  return { ...tick, cx: (tick.x0 + tick.x1) / 2, cy: (tick.y0 + tick.y1) / 2 };
}

/** The uppermost rows of a mark, no wider than what they hold. */
function upperPart(mark: Patch, rows: number, { width, data }: Plane, faint: number): Patch {
  let [x0, x1] = [mark.x1, mark.x0];
  for (let y = mark.y0; y < mark.y0 + rows; y++) {
    let x = mark.x0;
    while (x < x0 && data[y * width + x] <= faint) x++;
    x0 = Math.min(x0, x);
    x = mark.x1;
    while (x > x1 && data[y * width + x - 1] <= faint) x--;
    x1 = Math.max(x1, x);
  }
  return { ...mark, x0, x1, y1: mark.y0 + rows };
}

/** Each arm's end holds at least this share of a cross; all that is no end and no middle at most that. */
const END = 0.065;
const BESIDE = { upright: 0.16, slanted: 0.34 };

/**
 * How plainly two strokes cross in the middle, upright or slanted: of nine fields four ends are full, and the four between them are not.
 * @returns what the poorest end holds, as a share of all; 0 where it is no cross
 */
function crossness({ x0, y0, x1, y1 }: Patch, strokes: Plane): number {
  const cells = new Float64Array(9);
  let sum = 0;
  for (let y = y0; y < y1; y++)
    for (let x = x0; x < x1; x++) {
      const v = Math.max(0, strokes.data[y * strokes.width + x]);
      cells[3 * Math.floor((3 * (y - y0)) / (y1 - y0)) + Math.floor((3 * (x - x0)) / (x1 - x0))] += v;
      sum += v;
    }
  const [a, up, b, left, , right, c, down, d] = cells.map((v) => v / sum);
  const [upright, slanted] = [Math.min(up, left, right, down), Math.min(a, b, c, d)];
  if (upright > END && a + b + c + d < BESIDE.upright) return upright;
  return slanted > END && up + left + right + down < BESIDE.slanted ? slanted : 0;
}
