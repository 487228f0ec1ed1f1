import type { Light, PlateReading, Spot } from "../../model/index.ts";

/** One number by which substances differ besides Rf: how they share out over the lights, or their colour. */
export interface Feature {
  readonly key: string;
  readonly value: number;
  readonly sd: number;
}

/** Scatter of the colour shares of one substance: 0.02 within a plate, 0.05 from photo to photo (measured on development plates). */
const COLOUR_SD = 0.08;

/** Typical amount under each light over the whole run: amounts of different lights are not on one scale. */
export type LightScales = ReadonlyMap<Light, number>;

/** Median amount of the spots that show under each light; 1 where none does. */
export function lightScales(plates: readonly PlateReading[]): LightScales {
  const amounts = new Map<Light, number[]>();
  for (const plate of plates) {
    for (const lane of plate.lanes) {
      for (const spot of lane.spots) {
        for (const r of spot.responses) {
          if (r.contrastToNoise < 5 || !(r.amount > 0)) continue;
          const list = amounts.get(r.light);
          if (list) list.push(r.amount);
          else amounts.set(r.light, [r.amount]);
        }
      }
    }
  }
  const scales = new Map<Light, number>();
  for (const [light, list] of amounts) scales.set(light, list.sort((a, b) => a - b)[list.length >> 1]);
  return scales;
}

/** What tells a spot from others besides its Rf. Every feature is about the substance, not about how much there is of it. */
export function featuresOf(spot: Spot, scales: LightScales): Feature[] {
  const out: Feature[] = [];
  const first = spot.responses[0];
  if (!first) return out;
  for (const other of spot.responses.slice(1)) {
    if (other.light === first.light) continue;
    const a = first.amount / (scales.get(first.light) ?? 1);
    const b = other.amount / (scales.get(other.light) ?? 1);
    const sum = Math.max(a, 0) + Math.max(b, 0);
    if (!(sum > 0)) continue;
    const noise =
      Math.hypot(first.amountSd / (scales.get(first.light) ?? 1), other.amountSd / (scales.get(other.light) ?? 1)) /
      sum;
    const value = Math.min(1.3, Math.max(-0.3, b / (Math.abs(a) + Math.abs(b))));
    out.push({ key: `${first.light}/${other.light}`, value, sd: Math.hypot(0.08, Math.min(noise, 1)) });
  }
  for (const r of spot.responses) {
    if (r.contrastToNoise < 6) continue;
    const size = r.colour.reduce((s, c) => s + Math.abs(c), 0);
    if (!(size > 0)) continue;
    const sd = Math.hypot(COLOUR_SD, 0.6 / r.contrastToNoise);
    out.push({ key: `${r.light}:red`, value: r.colour[0] / size, sd });
    out.push({ key: `${r.light}:blue`, value: r.colour[2] / size, sd });
  }
  return out;
}

/** Weighted sums over a component's spots, one entry per feature, by which its features are fitted against log amount. */
export interface FeatureSums {
  readonly weight: Float64Array;
  readonly log: Float64Array;
  readonly logLog: Float64Array;
  readonly value: Float64Array;
  readonly logValue: Float64Array;
}

/** How much a feature of one substance changes with its amount, per unit of ln: strong spots are saturated, or quench their own light. */
const SLOPE_SD = 0.12;

/** Sums of no spot. */
export function noSums(space: FeatureSpace): FeatureSums {
  const empty = () => new Float64Array(space.mean.length);
  return { weight: empty(), log: empty(), logLog: empty(), value: empty(), logValue: empty() };
}

/** Adds a spot of the given log amount with weight `z`. */
export function addTo(
  sums: FeatureSums,
  features: readonly Feature[],
  logAmount: number,
  z: number,
  space: FeatureSpace,
): void {
  for (const f of features) {
    const d = space.index.get(f.key);
    if (d === undefined) continue;
    sums.weight[d] += z;
    sums.log[d] += z * logAmount;
    sums.logLog[d] += z * logAmount * logAmount;
    sums.value[d] += z * f.value;
    sums.logValue[d] += z * logAmount * f.value;
  }
}

/** Features of all spots put on numbered dimensions, with the run's own mean and spread of each. */
export interface FeatureSpace {
  readonly index: ReadonlyMap<string, number>;
  readonly mean: Float64Array;
  readonly sd: Float64Array;
}

/** The space spanned by all spots of a run; dimensions that fewer than four spots have are left out. */
export function featureSpace(spots: readonly (readonly Feature[])[]): FeatureSpace {
  const values = new Map<string, number[]>();
  for (const features of spots) {
    for (const f of features) {
      const list = values.get(f.key);
      if (list) list.push(f.value);
      else values.set(f.key, [f.value]);
    }
  }
  const kept = [...values].filter(([, list]) => list.length >= 4).sort(([a], [b]) => (a < b ? -1 : 1));
  const mean = new Float64Array(kept.length);
  const sd = new Float64Array(kept.length);
  kept.forEach(([, list], d) => {
    mean[d] = list.reduce((s, v) => s + v, 0) / list.length;
    sd[d] = Math.sqrt(list.reduce((s, v) => s + (v - mean[d]) ** 2, 0) / list.length + 1e-4);
  });
  return { index: new Map(kept.map(([key], d) => [key, d])), mean, sd };
}

/**
 * Log of how much better a component's own features, each a line over log amount, explain a spot than the run's spread at
 * large does; within ±3, because features of one spot are not independent of each other.
 */
export function featureEvidence(
  features: readonly Feature[],
  logAmount: number,
  space: FeatureSpace,
  sums: FeatureSums,
): number {
  let log = 0;
  for (const f of features) {
    const d = space.index.get(f.key);
    if (d === undefined) continue;
    const n = sums.weight[d];
    const spread = space.sd[d] ** 2;
    // Mean shrunk to the run's mean as if one spot more had it, slope to none; the spread within a substance is the spot's own sd.
    const own = f.sd ** 2;
    const trust = n / (n + own / spread);
    const middle = n > 0 ? sums.log[d] / n : logAmount;
    const mean = n > 0 ? sums.value[d] / n : space.mean[d];
    const reach = logAmount - middle;
    const certain = Math.max(0, sums.logLog[d] - n * middle * middle) + own / SLOPE_SD ** 2;
    const slope = (sums.logValue[d] - n * middle * mean) / certain;
    const centre = trust * mean + (1 - trust) * space.mean[d] + slope * reach;
    const within = own * (1 + (reach * reach) / certain) + spread * (1 - trust);
    const at = spread + own;
    log += 0.5 * (Math.log(at / within) + (f.value - space.mean[d]) ** 2 / at - (f.value - centre) ** 2 / within);
  }
  return Math.max(-3, Math.min(3, 0.6 * log));
}
