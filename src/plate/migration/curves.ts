import { solvePositive } from "../../math/cholesky.ts";
import { type Stripes, stripeCentre } from "./blocks.ts";

/** A line across the plate in rows: y(u) = y + tilt * (u - 0.5) + bow * (2u - 1)^2, u from 0 to 1. */
export interface RowCurve {
  readonly y: number;
  readonly tilt: number;
  readonly bow: number;
}

export interface CurveSearch {
  readonly from: number;
  readonly to: number;
  readonly tilts: readonly number[];
  readonly bows: readonly number[];
  readonly margin: number;
}

export interface CurveHit extends RowCurve {
  /** Mean over the stripes of the response in noise widths, each clamped to -1..3. */
  readonly score: number;
  /** The response that two thirds of the stripes reach, in noise widths: high for a line, low for a row of spots. */
  readonly steady: number;
  /** As the score, with no response counted for more than a line's: a row of spots is bold in its lanes alone. */
  readonly even: number;
}

export function rowAt(curve: RowCurve, u: number): number {
  const c = 2 * u - 1;
  return curve.y + curve.tilt * (u - 0.5) + curve.bow * c * c;
}

/** A line is hardly anywhere bolder than so many times what three quarters of the stripes reach. */
const EVEN = 3;
/** What four fifths of the stripes reach is at least this share of what a fifth of them reaches. */
const SHARE = 0.15;

/** Mean of sorted responses, each clamped to what a line of one boldness would give; less where only some stripes are bold. */
function evenScore(sorted: Float64Array): number {
  const at = (share: number) => sorted[Math.floor(share * sorted.length)];
  const top = Math.max(0, Math.min(3, EVEN * at(0.25)));
  const mean = sorted.reduce((sum, v) => sum + Math.max(-1, Math.min(top, v)), 0) / sorted.length;
  return mean * Math.max(0, Math.min(1, at(0.2) / (SHARE * at(0.8))));
}

function responses(z: Stripes, curve: RowCurve, margin: number, noise: number, out: Float64Array): void {
  const { count, height, data } = z;
  for (let b = 0; b < count; b++) {
    const y = Math.round(rowAt(curve, stripeCentre(b, count, margin)));
    out[b] = y < 0 || y >= height ? 0 : data[b * height + y] / noise;
  }
}

/**
 * Looks for a line that crosses the whole plate: for each height, tilt and bow the clamped response is averaged over
 * the stripes (a Hough transform over parabolas), best curve per height kept, then ranked by score with heights closer
 * than `apart` rows to a better one left out.
 */
export function findCurves(z: Stripes, noise: number, search: CurveSearch, apart: number, most: number): CurveHit[] {
  const { count, height, data } = z;
  const clamped = new Float32Array(data.length);
  for (let i = 0; i < data.length; i++) clamped[i] = Math.max(-1, Math.min(3, data[i] / noise));
  const best: CurveHit[] = [];
  const scores = new Float64Array(height).fill(Number.NEGATIVE_INFINITY);
  const winners: RowCurve[] = new Array(height);
  const sums = new Float64Array(search.to - search.from + 1);
  const shifts = new Int32Array(count);
  for (const tilt of search.tilts)
    for (const bow of search.bows) {
      sums.fill(0);
      for (let b = 0; b < count; b++)
        shifts[b] = Math.round(rowAt({ y: 0, tilt, bow }, stripeCentre(b, count, search.margin)));
      addShifted(clamped, height, shifts, search, sums);
      for (let k = 0, y = search.from; k < sums.length; k++, y++) {
        if (sums[k] <= scores[y]) continue;
        scores[y] = sums[k];
        winners[y] = { y, tilt, bow };
      }
    }
  const order = [];
  for (let y = search.from; y <= search.to; y++) if (winners[y]) order.push(y);
  order.sort((a, b) => scores[b] - scores[a] || a - b);
  const sample = new Float64Array(count);
  for (const y of order) {
    if (best.length >= most) break;
    if (best.some((h) => Math.abs(h.y - y) < apart)) continue;
    responses(z, winners[y], search.margin, noise, sample);
    const sorted = Float64Array.from(sample).sort();
    const steady = sorted[Math.floor(count / 3)];
    best.push({ ...winners[y], score: scores[y] / count, steady, even: evenScore(sorted) });
  }
  return best;
}

/** Adds each stripe's responses, moved up by its shift, to the sums at heights from..to; what lies off the plate is left out. */
function addShifted(
  clamped: Float32Array,
  height: number,
  shifts: Int32Array,
  { from, to }: Pick<CurveSearch, "from" | "to">,
  sums: Float64Array,
): void {
  const first = (b: number) => Math.max(0, -shifts[b] - from);
  const last = (b: number) => Math.min(to, height - 1 - shifts[b]) - from;
  const addOne = (b: number, k0: number, k1: number) => {
    for (let k = k0, i = b * height + from + shifts[b] + k0; k <= k1; k++, i++) sums[k] += clamped[i];
  };
  // Four at a time: reading and writing the sums takes longer than adding.
  for (let b = 0; b < shifts.length; b += 4) {
    const four = Math.min(4, shifts.length - b);
    let low = 0;
    let high = to - from;
    for (let s = b; s < b + four; s++) {
      low = Math.max(low, first(s));
      high = Math.min(high, last(s));
    }
    if (four < 4 || low > high) {
      for (let s = b; s < b + four; s++) addOne(s, first(s), last(s));
      continue;
    }
    const o = from + low;
    let i0 = b * height + o + shifts[b];
    let i1 = (b + 1) * height + o + shifts[b + 1];
    let i2 = (b + 2) * height + o + shifts[b + 2];
    let i3 = (b + 3) * height + o + shifts[b + 3];
    for (let k = low; k <= high; k++) sums[k] = sums[k] + clamped[i0++] + clamped[i1++] + clamped[i2++] + clamped[i3++];
    for (let s = b; s < b + 4; s++) {
      addOne(s, first(s), low - 1);
      addOne(s, high + 1, last(s));
    }
  }
}

/** Fits y, tilt and bow through the strongest response within `reach` rows of the curve in each stripe, robustly. */
export function refineCurve(
  z: Stripes,
  start: RowCurve,
  reach: number,
  noise: number,
  margin: number,
  bowed: boolean,
): { curve: RowCurve; rms: number; used: number } {
  const { count, height, data } = z;
  const us: number[] = [];
  const ys: number[] = [];
  const ws: number[] = [];
  for (let b = 0; b < count; b++) {
    const u = stripeCentre(b, count, margin);
    const centre = Math.round(rowAt(start, u));
    let top = -1;
    for (let y = Math.max(1, centre - reach); y <= Math.min(height - 2, centre + reach); y++)
      if (top < 0 || data[b * height + y] > data[b * height + top]) top = y;
    if (top < 0) continue;
    const o = b * height + top;
    const value = data[o];
    if (value < noise) continue;
    const bend = data[o - 1] - 2 * value + data[o + 1];
    const offset = bend < 0 ? Math.max(-0.5, Math.min(0.5, (data[o - 1] - data[o + 1]) / (2 * bend))) : 0;
    us.push(u);
    ys.push(top + offset + 0.5);
    ws.push(Math.min(value / noise, 4));
  }
  let curve: RowCurve = { ...start, y: start.y + 0.5 };
  let rms = reach;
  for (let round = 0; round < 6 && us.length >= 4; round++) {
    const robust = ws.map((w, i) => {
      const r = (ys[i] - rowAt(curve, us[i])) / Math.max(1, reach / 4);
      return w / (1 + r * r) ** 2;
    });
    curve = weightedParabola(us, ys, robust, curve, bowed);
    const total = robust.reduce((a, b) => a + b, 0);
    rms = Math.sqrt(us.reduce((s, u, i) => s + robust[i] * (ys[i] - rowAt(curve, u)) ** 2, 0) / Math.max(total, 1e-9));
  }
  return { curve, rms, used: us.length };
}

/** Weighted least squares for y, tilt and (if bowed) bow, held a little to the curve it starts from. */
function weightedParabola(us: number[], ys: number[], ws: number[], start: RowCurve, bowed: boolean): RowCurve {
  const m = Float64Array.from([0.02, 0, 0, 0, 0.3, 0, 0, 0, bowed ? 0.6 : 1e9]);
  const v = new Float64Array(3);
  for (let i = 0; i < us.length; i++) {
    const c = 2 * us[i] - 1;
    const f = [1, us[i] - 0.5, c * c];
    const r = ys[i] - rowAt(start, us[i]);
    for (let a = 0; a < 3; a++) {
      v[a] += ws[i] * f[a] * r;
      for (let b = 0; b < 3; b++) m[a * 3 + b] += ws[i] * f[a] * f[b];
    }
  }
  return solvePositive(m, 3, [v]) ? { y: start.y + v[0], tilt: start.tilt + v[1], bow: start.bow + v[2] } : start;
}
