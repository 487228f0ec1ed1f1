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
export function along(z: Stripes, noise: number, curve: RowCurve, slack: number): Along {
  const { count } = z;
  const shifts = 2 * slack + 1;
  const all = new Float64Array(shifts * count);
  const sums = new Float64Array(shifts);
  for (let b = 0; b < count; b++) {
    const y = Math.round(rowAt(curve, stripeCentre(b, count, MARGIN)) - 0.5) - slack;
    strongestOf(z, b, y, noise, shifts, all, sums);
  }
  let best = 0;
  for (let s = 1; s < shifts; s++) if (sums[s] > sums[best]) best = s;
  const sorted = all.subarray(best * count, (best + 1) * count).sort();
  const top = Math.max(0, Math.min(3, 3 * sorted[count >> 2]));
  let even = 0;
  for (const v of sorted) even += Math.min(top, v);
  return {
    mean: sums[best] / count,
    steady: sorted[Math.floor(count / 3)],
    low: sorted[Math.floor(0.2 * count)],
    even: even / count,
  };
}

/** The strongest of three rows of stripe b about each of `shifts` rows from y on, -1 at least and off the plate. */
function strongestOf(
  { count, height, data }: Stripes,
  b: number,
  y: number,
  noise: number,
  shifts: number,
  all: Float64Array,
  sums: Float64Array,
): void {
  const o = b * height;
  const at = (row: number) => (row >= 0 && row < height ? data[o + row] / noise : -1);
  let [above, here] = [at(y - 1), at(y)];
  for (let s = 0; s < shifts; s++) {
    const below = at(y + s + 1);
    const v = Math.max(-1, above, here, below);
    all[s * count + b] = v;
    sums[s] += Math.min(3, v);
    above = here;
    here = below;
  }
}
