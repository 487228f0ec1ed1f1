import { connectedPatches, maskAbove } from "../../raster/components.ts";

/** A patch of strong spots: bounding box (x1, y1 exclusive), centroid, how it leans and how it tails. */
export interface Blob {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly cx: number;
  readonly cy: number;
  /** Third moments across and down, standardised: positive where it fades to the right, and downwards. */
  readonly skewX: number;
  readonly skewY: number;
  /** Whether it rises sharply to the left and above, and fades to the right and downwards: 1 it does, -1 the other way. */
  readonly tailX: number;
  readonly tailY: number;
}

/** What stands out this much belongs to a spot. */
export const SPOT = 4;
/** A spot counts for up to this much more. */
export const BOLD = 20;
/** Smallest area as a share of the plate's. */
const AREA = 0.0008;

/** The patches of spots on a plate. */
export function blobsOf(spots: Float32Array, width: number, height: number): Blob[] {
  return connectedPatches(maskAbove(spots, SPOT), width, height, Math.round(AREA * width * height)).map(
    ({ x0, y0, x1, y1, cx, cy }) => {
      const columns = new Float64Array(x1 - x0);
      const rows = new Float64Array(y1 - y0);
      for (let y = 0; y < rows.length; y++) addRow(spots, (y0 + y) * width + x0, columns, rows, y);
      // Room for slopes on all sides.
      const [left, top] = [Math.max(SLOPE.reach, x0), Math.max(SLOPE.reach, y0)];
      const [right, foot] = [Math.min(width - SLOPE.reach, x1), Math.min(height - SLOPE.reach, y1)];
      const tail = (step: number) =>
        tailAlong(spots, top * width, foot * width, width, left, right, SLOPE.reach * step);
      const skews = { skewX: thirdMoment(columns), skewY: thirdMoment(rows) };
      return { x0, y0, x1, y1, cx, cy, ...skews, tailX: tail(1), tailY: tail(width) };
    },
  );
}

/** Slopes are taken this far to either side, of spots up to so strong; less than the last is no slope. */
const SLOPE = { reach: 1, strongest: 30, least: 2.5 };

/**
 * Third moment of a blob's slopes along a way over its size: few steep ones against many gentle ones.
 * @param from,end where its rows begin in `spots`, `width` apart; `left` to `right`, exclusive, are its columns
 * @param step from a pixel to those between which its slope is taken
 */
function tailAlong(
  spots: Float32Array,
  from: number,
  end: number,
  width: number,
  left: number,
  right: number,
  step: number,
): number {
  let cube = 0;
  let size = SLOPE.least;
  for (let o = from; o < end; o += width)
    for (let i = o + left; i < o + right; i++) {
      if (spots[i] < SPOT) continue;
      const slope = Math.min(SLOPE.strongest, spots[i + step]) - Math.min(SLOPE.strongest, spots[i - step]);
      const power = slope * slope * slope;
      cube += power;
      size += Math.abs(power);
    }
  return cube / size;
}

/** Adds a row of a blob, which begins at `o`; a function of its own, which the engine compiles early. */
function addRow(spots: Float32Array, o: number, columns: Float64Array, rows: Float64Array, y: number): void {
  const most = 2 * BOLD;
  const least = SPOT - 1;
  for (let x = 0; x < columns.length; x++) {
    const spot = spots[o + x];
    if (spot <= least) continue;
    const v = Math.min(most, spot - SPOT + 1);
    columns[x] += v;
    rows[y] += v;
  }
}

/** Standardised; 0 where all stands in one place. */
function thirdMoment(profile: Float64Array): number {
  let mass = 0;
  let mean = 0;
  for (let y = 0; y < profile.length; y++) {
    mass += profile[y];
    mean += profile[y] * y;
  }
  mean /= mass;
  let square = 0;
  let cube = 0;
  for (let y = 0; y < profile.length; y++) {
    const off = y - mean;
    square += profile[y] * off * off;
    cube += profile[y] * off * off * off;
  }
  square /= mass;
  return square > 0 ? cube / mass / square ** 1.5 : 0;
}

/** Blobs of a plate of `height` pixels when it is turned clockwise by a quarter. */
export function quarterTurned(blobs: readonly Blob[], height: number): Blob[] {
  return blobs.map(({ x0, y0, x1, y1, cx, cy, skewX, skewY, tailX, tailY }) => ({
    x0: height - y1,
    y0: x0,
    x1: height - y0,
    y1: x1,
    cx: height - 1 - cy,
    cy: cx,
    skewX: -skewY,
    skewY: skewX,
    tailX: -tailY,
    tailY: tailX,
  }));
}
