/** Stripes that a piece of a curve crosses. */
export const PIECE = 4;

/** The differing pieces of many curves, one after the other from the left edge to the right one. */
export interface CurvePieces {
  /** Of each piece: the first stripe, and where in `shifts` a curve has it. */
  readonly stripe: Int32Array;
  readonly sample: Int32Array;
  /** Of each piece: the least and the greatest shift that its first stripe has in any curve. */
  readonly least: Int32Array;
  readonly greatest: Int32Array;
  /** The piece that each curve has at each place, curve after curve. */
  readonly of: Int32Array;
}

/**
 * Cuts curves into pieces of four stripes. A few hundred curves have a few dozen pieces at each place, so that what is added up once a
 * piece need not be added up once a curve.
 * @param shifts rows by which each stripe of each curve lies below the curve's height, curve after curve
 * @param count of the stripes, a multiple of `PIECE`
 */
export function curvePieces(shifts: Int32Array, count: number): CurvePieces {
  const places = count / PIECE;
  const of = new Int32Array(shifts.length / PIECE);
  const base = 2 * steepest(shifts, count) + 1;
  const known = new Int32Array(base ** (PIECE - 1));
  const sample = new Int32Array(of.length);
  const least = new Int32Array(of.length);
  const greatest = new Int32Array(of.length);
  let pieces = 0;
  for (let place = 0; place < places; place++) {
    known.fill(-1);
    for (let i = place; i < of.length; i += places) {
      const shape = shapeOf(shifts, PIECE * i, base);
      if (known[shape] < 0) {
        sample[pieces] = PIECE * i;
        least[pieces] = greatest[pieces] = shifts[PIECE * i];
        known[shape] = pieces++;
      }
      const piece = known[shape];
      const shift = shifts[PIECE * i];
      if (shift < least[piece]) least[piece] = shift;
      if (shift > greatest[piece]) greatest[piece] = shift;
      of[i] = piece;
    }
  }
  return {
    of,
    stripe: sample.subarray(0, pieces).map((at) => at % count),
    sample: sample.subarray(0, pieces),
    least: least.subarray(0, pieces),
    greatest: greatest.subarray(0, pieces),
  };
}

/** The most rows that two neighbouring stripes of a curve lie apart. */
function steepest(shifts: Int32Array, count: number): number {
  let most = 0;
  for (let o = 0; o < shifts.length; o += count)
    for (let i = o + 1; i < o + count; i++) most = Math.max(most, Math.abs(shifts[i] - shifts[i - 1]));
  return most;
}

/** A number that only pieces of one shape share, below the cube of `base`. */
function shapeOf(shifts: Int32Array, start: number, base: number): number {
  let shape = 0;
  for (let i = start + 1; i < start + PIECE; i++) shape = shape * base + shifts[i] - shifts[i - 1] + (base >> 1);
  return shape;
}
