import { solvePositive } from "../../math/cholesky.ts";
import { type Stripes, stripeCentre } from "./blocks.ts";

/** A line across the plate in rows: y(u) = y + tilt * (u - 0.5) + bow * (2u - 1)^2, u from 0 to 1. */
export interface RowCurve {
  readonly y: number;
  readonly tilt: number;
  readonly bow: number;
}

export function rowAt(curve: RowCurve, u: number): number {
  const c = 2 * u - 1;
  return curve.y + curve.tilt * (u - 0.5) + curve.bow * c * c;
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
export function weightedParabola(us: number[], ys: number[], ws: number[], start: RowCurve, bowed: boolean): RowCurve {
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
