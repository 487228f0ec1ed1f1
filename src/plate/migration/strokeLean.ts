import type { RowCurve } from "./curves.ts";

/** A short stroke next to one edge of a plate, followed from the edge inwards. */
export interface StrokeLean {
  /** Middle of what was followed: widths from the edge, and rows. */
  readonly at: number;
  readonly y: number;
  /** Rows that it falls per width inwards, and how exactly that is known (variance); infinite where too little was followed. */
  readonly fall: number;
  readonly variance: number;
}

/** From one piece to the next a stroke moves by so many rows at most, and keeps this share of its strength. */
const STEP = 3;
const STILL = 0.3;
/** Standard error in rows of the middle of one piece. */
const ERROR = 0.5;

/**
 * Follows a stroke through the pieces of an edge.
 * @param pieces ridges of each piece, the outermost first
 * @param centres of the pieces, widths from the edge
 * @param start row of the stroke
 */
export function strokeLean(
  pieces: readonly ArrayLike<number>[],
  centres: readonly number[],
  start: number,
): StrokeLean {
  const rows: number[] = [];
  const places: number[] = [];
  let strongest = 0;
  let row = start;
  for (const [k, piece] of pieces.entries()) {
    const top = topNear(piece, row, STEP);
    const strength = Math.max(0, piece[top]);
    if (strength < STILL * strongest) break;
    // the outermost piece lacks it where the layer is flaked off
    if (strongest < STILL * strength) rows.length = places.length = 0;
    strongest = Math.max(strongest, strength);
    if (strength > 0) row = top;
    rows.push(between(piece, top));
    places.push(centres[k]);
  }
  const at = mean(places);
  const y = mean(rows);
  const spread = places.reduce((sum, x) => sum + (x - at) ** 2, 0);
  if (spread === 0) return { at, y, fall: 0, variance: Infinity };
  const fall = places.reduce((sum, x, k) => sum + (x - at) * (rows[k] - y), 0) / spread;
  return { at, y, fall, variance: ERROR ** 2 / spread };
}

function topNear(piece: ArrayLike<number>, row: number, most: number): number {
  let top = row;
  for (let y = Math.max(1, row - most); y <= Math.min(piece.length - 2, row + most); y++)
    if (piece[y] > piece[top]) top = y;
  return top;
}

/** Vertex of the parabola through a row and its neighbours. */
function between(piece: ArrayLike<number>, y: number): number {
  const [a, b, c] = [piece[y - 1], piece[y], piece[y + 1]];
  const bend = a - 2 * b + c;
  return y + 0.5 + (bend < 0 ? Math.max(-0.5, Math.min(0.5, (a - c) / (2 * bend))) : 0);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

/** How fronts lie before anything is seen of them: sd of their rise over the plate and of their bow, as shares of the height. */
const TILT = 0.02;
const BOW = 0.012;

/** Where a front meets an edge it falls or rises by no more than so much of the height over the plate's width; a scratch does. */
const STEEPEST = 0.17;

export function mayBeFront({ fall }: StrokeLean, height: number): boolean {
  return Math.abs(fall) <= STEEPEST * height;
}

/**
 * A front of which one edge shows a stroke that was drawn along it: the likeliest tilt and bow that lean so there (both normal
 * beforehand).
 * @param side 0 the left edge, 1 the right one
 */
export function frontAlong({ at, y, fall, variance }: StrokeLean, side: 0 | 1, height: number): RowCurve {
  // seen from the edge, the fall is tilt * slant + bow * bend
  const slant = side === 0 ? 1 : -1;
  const bend = 4 * (2 * at - 1);
  const [t, b] = [(TILT * height) ** 2, (BOW * height) ** 2];
  const total = t + bend * bend * b + variance;
  const tilt = (slant * t * fall) / total;
  const bow = (bend * b * fall) / total;
  return { y: y - tilt * slant * (at - 0.5) - bow * (2 * at - 1) ** 2, tilt, bow };
}
