import { solvePositive } from "../../math/cholesky.ts";
import type { PlateReading } from "../../model/index.ts";

/**
 * How a plate departs from the run's common Rf scale: shift, stretch, bow (largest at Rf 0.5) and sideways tilt:
 * Rf on the plate = r + shift + stretch r + bow 4 r (1 - r) + tilt (u - 0.5), u the place across the plate.
 */
export type PlateScale = Float64Array;

export const SCALE_TERMS = 4;

/** Rf that a substance of common Rf `r` shows at place `u` of a plate. */
export function onPlate(scale: PlateScale, r: number, u: number): number {
  return r + scale[0] + scale[1] * r + scale[2] * 4 * r * (1 - r) + scale[3] * (u - 0.5);
}

/** Common Rf of a spot seen at `rf`, place `u` (inverse of `onPlate`, three fixed-point steps). */
export function offPlate(scale: PlateScale, rf: number, u: number): number {
  let r = rf;
  for (let i = 0; i < 3; i++) r += rf - onPlate(scale, r, u);
  return r;
}

/** Prior sds of the four terms: wider where origin or front were assumed rather than seen. */
export function scalePrior(plate: PlateReading): Float64Array {
  const way = Math.max(0.2, plate.origin.y - plate.front.y);
  const origin = Math.max(plate.origin.sd / way, plate.origin.source === "assumed" ? 0.03 : 0);
  // Wider still, the spots of an assumed front's plate would go for their neighbours.
  const front = plate.front.source === "assumed" ? 0.05 : plate.front.sd / way;
  return Float64Array.of(Math.hypot(0.009, origin), Math.hypot(0.026, origin + front), 0.011, 0.004);
}

/**
 * Place of the five sums of plate `p` and component `k` over its spots: of the weights (1/variance), of weight x u',
 * weight x u'^2, weight x rf and weight x u' x rf, with u' = u - 0.5.
 */
export function sumsAt(p: number, k: number, components: number): number {
  return (p * components + k) * 5;
}

/**
 * Most probable centres and plate scales together, one Gauss-Newton step from `centres`: weighted least squares with a
 * normal prior on every scale term (which also fixes the common scale).
 * @returns new centres and the scales; the old ones where the system is singular
 */
export function fitScales(
  centres: readonly number[],
  sums: Float64Array,
  priors: readonly Float64Array[],
): { centres: number[]; scales: PlateScale[] } {
  const count = centres.length;
  const plates = priors.length;
  const n = count + SCALE_TERMS * plates;
  const a = new Float64Array(n * n);
  const b = new Float64Array(n);
  const basis = new Float64Array(3);
  for (let k = 0; k < count; k++) a[k * n + k] += 1e-3;
  for (let p = 0; p < plates; p++) {
    const at = count + SCALE_TERMS * p;
    for (let t = 0; t < SCALE_TERMS; t++) a[(at + t) * n + at + t] += 1 / priors[p][t] ** 2;
    for (let k = 0; k < count; k++) {
      const s = sumsAt(p, k, count);
      const w = sums[s];
      if (!(w > 0)) continue;
      const r = centres[k];
      basis[0] = 1;
      basis[1] = r;
      basis[2] = 4 * r * (1 - r);
      const wu = sums[s + 1];
      const wy = sums[s + 3] - w * r;
      const wuy = sums[s + 4] - wu * r;
      a[k * n + k] += w;
      b[k] += wy;
      for (let t = 0; t < 3; t++) {
        a[(at + t) * n + k] += w * basis[t];
        b[at + t] += wy * basis[t];
        for (let q = 0; q <= t; q++) a[(at + t) * n + at + q] += w * basis[t] * basis[q];
        a[(at + 3) * n + at + t] += wu * basis[t];
      }
      a[(at + 3) * n + k] += wu;
      a[(at + 3) * n + at + 3] += sums[s + 2];
      b[at + 3] += wuy;
    }
  }
  if (!solvePositive(a, n, [b]))
    return { centres: [...centres], scales: priors.map(() => new Float64Array(SCALE_TERMS)) };
  return {
    centres: centres.map((r, k) => r + b[k]),
    scales: priors.map((_, p) => b.slice(count + SCALE_TERMS * p, count + SCALE_TERMS * (p + 1))),
  };
}
