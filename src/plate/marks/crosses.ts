import { aroundBoth, connectedPatches, maskAbove, type Patch } from "../../raster/components.ts";
import type { CrossRows, MarkRow, SignalMap } from "../view.ts";
import { crossIn, tickOn } from "./crossShapes.ts";
import { CLEAR, lowered, rowsOfMarks, strongest } from "./rows.ts";

/** Fronts lie above this share of the height, origins below that one. */
const FRONT_TO = 0.4;
const ORIGIN_FROM = 0.6;
/** A front may be bowed: crosses lie so far off one straight row, as a share of the height; origins are drawn along a ruler. */
const OFF_ROW = { front: 0.02, origin: 0.008 };
/** Three at least; a front is marked in a few places, no more. */
const COUNT = { least: 3, mostOfFront: 6 };
/** A front's reach over so much of the width. */
const SPAN = 0.5;

/**
 * Rows of small crosses that may mark the front, of people who draw no line across the layer, and that may be the lanes' origins, be
 * they ever so close above figures; there also of ticks that stand on their figures.
 */
export function findCrosses(map: SignalMap): CrossRows {
  const { width } = map;
  const front = crossRows(map, 0, FRONT_TO, OFF_ROW.front).filter(({ marks }) => {
    const us = marks.map((m) => m.cx / width);
    return marks.length <= COUNT.mostOfFront && Math.max(...us) - Math.min(...us) >= SPAN;
  });
  return { front, origin: crossRows(map, ORIGIN_FROM, 1, OFF_ROW.origin, true) };
}

function crossRows(
  { strokes, strokeNoise, width, height }: SignalMap,
  from: number,
  to: number,
  off: number,
  ticks = false,
): MarkRow[] {
  const [first, last] = [Math.round(from * height), Math.floor(to * height)];
  const part = { width, height: last - first, data: strokes.data.subarray(first * width, last * width) };
  const faint = FAINT * CLEAR * strokeNoise;
  const mask = maskAbove(part.data, faint);
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
  const placed = marks.map((m) => lowered(m, first));
  const rows = rowsOfMarks(placed, width, height, off * height);
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
