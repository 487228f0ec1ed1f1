import { type Stripes, stripeCentre } from "./blocks.ts";
import { curvePieces } from "./curvePieces.ts";
import { type CurveShifts, CurveSums } from "./curveSums.ts";
import { type RowCurve, rowAt } from "./curves.ts";

/** Curves that are looked for at heights `from` to `to`, in stripes. */
export interface CurveSearch extends CurveShifts {
  readonly margin: number;
  /** The curves at height 0. */
  readonly curves: readonly RowCurve[];
}

/** All tilts with all bows, for stripes of one count, a multiple of twenty; the same for all photos of a plate. */
export function curveSearch(
  { from, to, margin }: Pick<CurveSearch, "from" | "to" | "margin">,
  tilts: readonly number[],
  bows: readonly number[],
  count: number,
): CurveSearch {
  const curves = tilts.flatMap((tilt) => bows.map((bow) => ({ y: 0, tilt, bow })));
  const centres = Float64Array.from({ length: count }, (_, b) => stripeCentre(b, count, margin));
  const shifts = new Int32Array(curves.length * count);
  let reach = 0;
  for (let c = 0; c < curves.length; c++) reach = Math.max(reach, shiftsOf(curves[c], centres, shifts, c * count));
  return { from, to, margin, curves, shifts, reach, pieces: curvePieces(shifts, count) };
}

/** Fills in the rows by which a curve's stripes lie below its height; returns the farthest. */
function shiftsOf(curve: RowCurve, centres: Float64Array, shifts: Int32Array, o: number): number {
  let reach = 0;
  for (let b = 0; b < centres.length; b++) {
    // Quicker than `Math.round`, which asks on which side of a half a number lies.
    const shift = Math.floor(rowAt(curve, centres[b]) + 0.5);
    shifts[o + b] = shift;
    reach = Math.max(reach, Math.abs(shift));
  }
  return reach;
}

export interface CurveHit extends RowCurve {
  /** Mean over the stripes of the response in noise widths, each clamped to -1..3. */
  readonly score: number;
  /** The response that two thirds of the stripes reach, in noise widths: high for a line, low for a row of spots. */
  readonly steady: number;
  /** As the score, with no response counted for more than a line's: a row of spots is bold in its lanes alone. Never above it. */
  readonly even: number;
}

/** A line is hardly anywhere bolder than so many times what three quarters of the stripes reach. */
const EVEN = 3;
/** What four fifths of the stripes reach is at least this share of what a fifth of them reaches. */
const SHARE = 0.15;

/** Mean of sorted responses, each clamped to what a line of one boldness would give; less where only some stripes are bold. */
function evenScore(sorted: Float64Array): number {
  const at = (share: number) => sorted[Math.floor(share * sorted.length)];
  const top = Math.max(0, Math.min(3, EVEN * at(0.25)));
  let sum = 0;
  for (const v of sorted) sum += Math.max(-1, Math.min(top, v));
  return (sum / sorted.length) * Math.max(0, Math.min(1, at(0.2) / (SHARE * at(0.8))));
}

function responses(z: Stripes, curve: RowCurve, margin: number, noise: number, out: Float64Array): void {
  const { count, height, data } = z;
  for (let b = 0; b < count; b++) {
    const y = Math.round(rowAt(curve, stripeCentre(b, count, margin)));
    out[b] = y < 0 || y >= height ? 0 : data[b * height + y] / noise;
  }
}

/** Scores are kept to so much, since responses are stored in single precision. */
const ROUNDING = 1e-5;

/**
 * Looks for a line that crosses the whole plate: for each height, tilt and bow the clamped response is averaged over
 * the stripes (a Hough transform over parabolas), best curve per height kept, then ranked by score with heights closer
 * than `apart` rows to a better one left out. Heights are worked out only as far as upper bounds say that they may be
 * next (branch and bound): what is found is the same.
 * @param sign -1 looks for the valleys of `z` instead of its ridges
 * @param least curves of a lower score are of no use
 */
export function findCurves(
  z: Stripes,
  noise: number,
  search: CurveSearch,
  { apart, most, least, sign }: { apart: number; most: number; least: number; sign: 1 | -1 },
): CurveHit[] {
  const { count } = z;
  const { curves, margin } = search;
  const sums = new CurveSums(z, sign * noise, search);
  const best: CurveHit[] = [];
  const sorted = new Float64Array(count);
  while (best.length < most) {
    const found = sums.next((least - ROUNDING) * count);
    if (!found) break;
    const { y, sum, index } = found;
    const curve = { ...curves[index], y };
    responses(z, curve, margin, sign * noise, sorted);
    sorted.sort();
    best.push({ ...curve, score: sum / count, steady: sorted[Math.floor(count / 3)], even: evenScore(sorted) });
    sums.leaveOut(y, apart);
  }
  return best;
}
