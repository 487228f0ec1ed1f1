import { type Stripes, stripeCentre } from "./blocks.ts";
import { type RowCurve, rowAt } from "./curves.ts";
import { MARGIN } from "./search.ts";

/** How plainly a line runs along a curve, in noise widths. */
export interface Along {
  /** Mean over the stripes, each clamped to -1..3. */
  readonly mean: number;
  /** What two thirds of the stripes reach, and what four fifths do. */
  readonly steady: number;
  readonly low: number;
  /** The mean, with no response counted for more than three times what three quarters of the stripes reach. */
  readonly even: number;
}

/** The strongest of each stripe within a row of the curve, moved up or down by `slack` rows at most to where the mean is highest. */
export function along({ count, height, data }: Stripes, noise: number, curve: RowCurve, slack: number): Along {
  const rows = Int32Array.from({ length: count }, (_, b) =>
    Math.round(rowAt(curve, stripeCentre(b, count, MARGIN)) - 0.5),
  );
  const out = new Float64Array(count);
  const best = new Float64Array(count);
  let most = Number.NEGATIVE_INFINITY;
  for (let shift = -slack; shift <= slack; shift++) {
    let sum = 0;
    for (let b = 0, o = 0; b < count; b++, o += height) {
      let v = -noise;
      for (let y = rows[b] + shift - 1; y <= rows[b] + shift + 1; y++)
        if (y >= 0 && y < height && data[o + y] > v) v = data[o + y];
      out[b] = v / noise;
      sum += Math.min(3, out[b]);
    }
    if (sum <= most) continue;
    most = sum;
    best.set(out);
  }
  best.sort();
  const top = Math.max(0, Math.min(3, 3 * best[count >> 2]));
  let even = 0;
  for (const v of best) even += Math.min(top, v);
  return {
    mean: most / count,
    steady: best[Math.floor(count / 3)],
    low: best[Math.floor(0.2 * count)],
    even: even / count,
  };
}
