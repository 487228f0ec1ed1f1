import { aroundBoth, connectedPatches, maskAbove, type Patch } from "../../raster/components.ts";
import { CLEAR, rowsOfMarks, strongest } from "../marks/index.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { crossIn, tickOn } from "./crossShapes.ts";
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

function joined(patches: readonly Patch[], gap: number): Patch[] {
  const whole: Patch[] = [];
  for (const one of patches) {
    let grown = one;
    for (let k = whole.length - 1; k >= 0; k--) {
      const other = whole[k];
      if (apart(grown, other) > gap) continue;
      grown = aroundBoth(grown, other);
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
