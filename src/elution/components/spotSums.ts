import type { Ground } from "./ground.ts";
import type { LaneMatch } from "./laneMatch.ts";
import { onPlate, type PlateScale, sumsAt } from "./plateScale.ts";
import { addTo, type FeatureSums, noSums } from "./signature.ts";

/** Scatter of Rf about a plate's own scale, taken before anything is known, and the spots that opinion counts for. */
export const SCATTER = 0.0045;
const SCATTER_WEIGHT = 12;

/** Weight of a spot in the fit: less for one that lies far off (the wide part of the scatter). */
function fitWeight(probability: number, off: number, variance: number): number {
  return probability / (variance * (1 + (off * off) / (9 * variance)));
}

/** Sums over the spots by which centres and scales are fitted (see `sumsAt`). */
export function spotSums(
  ground: Ground,
  centres: readonly number[],
  scales: readonly PlateScale[],
  sd: number,
  matches: readonly LaneMatch[],
) {
  const count = centres.length;
  const sums = new Float64Array(ground.priors.length * count * 5);
  ground.lanes.forEach((lane, l) => {
    lane.spots.forEach((spot, i) => {
      for (let k = 0; k < count; k++) {
        const z = matches[l].alone[i * count + k];
        if (z < 1e-4) continue;
        const u = lane.u - 0.5;
        const w = fitWeight(z, spot.rf - onPlate(scales[lane.plate], centres[k], lane.u), sd * sd + spot.extraVar);
        const at = sumsAt(lane.plate, k, count);
        sums[at] += w;
        sums[at + 1] += w * u;
        sums[at + 2] += w * u * u;
        sums[at + 3] += w * spot.rf;
        sums[at + 4] += w * u * spot.rf;
      }
    });
  });
  return sums;
}

/** Scatter of Rf about centres on their plates, robust, with a prior. */
export function scatter(
  ground: Ground,
  centres: readonly number[],
  scales: readonly PlateScale[],
  sd: number,
  matches: readonly LaneMatch[],
): number {
  const count = centres.length;
  let squares = SCATTER_WEIGHT * SCATTER * SCATTER;
  let weight = SCATTER_WEIGHT;
  ground.lanes.forEach((lane, l) => {
    lane.spots.forEach((spot, i) => {
      for (let k = 0; k < count; k++) {
        const z = matches[l].alone[i * count + k];
        if (z < 0.01) continue;
        const off = spot.rf - onPlate(scales[lane.plate], centres[k], lane.u);
        const own = sd * sd + spot.extraVar;
        const w = z / (1 + (off * off) / (9 * own));
        squares += (w * off * off * sd * sd) / own;
        weight += w;
      }
    });
  });
  // Centres and scales take up part of the scatter themselves.
  const freedom = Math.max(SCATTER_WEIGHT, weight - count - 1.5 * ground.priors.length);
  return Math.min(0.012, Math.max(0.002, Math.sqrt(squares / freedom)));
}

/** What the spots of each component say of its features. */
export function featureSums(ground: Ground, matches: readonly LaneMatch[], count: number): FeatureSums[] {
  const out = Array.from({ length: count }, () => noSums(ground.space));
  ground.lanes.forEach((lane, l) => {
    lane.spots.forEach((spot, i) => {
      for (let k = 0; k < count; k++) {
        const z = matches[l].alone[i * count + k];
        if (z >= 0.05) addTo(out[k], spot.features, spot.logAmount, z, ground.space);
      }
    });
  });
  return out;
}
