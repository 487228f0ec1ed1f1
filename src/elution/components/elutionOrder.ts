import { deepestValley } from "../../math/valley.ts";
import type { LaneMatch } from "./laneMatch.ts";
import type { LaneObservation } from "./observations.ts";

/** Substances come off in the order of falling Rf: log odds against a component that comes before a faster one. */
export function disorder(lanes: readonly LaneObservation[], present: Float64Array, count: number): number {
  let penalty = 0;
  let last = Number.NaN;
  for (let k = 0; k < count; k++) {
    let weight = 0;
    let sum = 0;
    lanes.forEach((lane, l) => {
      if (lane.tube === null) return;
      weight += present[l * count + k];
      sum += present[l * count + k] * lane.tube;
    });
    if (weight < 1) continue;
    const centre = sum / weight;
    if (centre < last - 0.5) penalty += Math.min(3, 0.7 * (last - centre - 0.5));
    last = Math.max(centre, Number.isNaN(last) ? centre : last);
  }
  return penalty;
}

/** Log ratio that spotting by hand makes of equal amounts, and what a deeper valley and a lane without a spot cost. */
const EVEN = 0.8;
const PER_LOG = 1.3;
const ONE_LANE = 2;
const MOST = 6;

/**
 * A substance elutes once: log odds against components whose amount falls and rises again. The valley is measured on the
 * log scale under the lower of the two humps; a single lane may always be a spot overlooked or badly spotted.
 */
export function humps(lanes: readonly LaneObservation[], matches: readonly LaneMatch[], count: number): number {
  const order = lanes.map((_, l) => l).filter((l) => lanes[l].tube !== null);
  order.sort((a, b) => (lanes[a].tube ?? 0) - (lanes[b].tube ?? 0) || a - b);
  let penalty = 0;
  const log = new Float64Array(order.length);
  for (let k = 0; k < count; k++) {
    order.forEach((l, i) => {
      const lane = lanes[l];
      let amount = Number.NEGATIVE_INFINITY;
      lane.spots.forEach((spot, s) => {
        const z =
          matches[l].alone[s * count + k] +
          matches[l].joint[s * count + k] +
          (k > 0 ? matches[l].joint[s * count + k - 1] : 0);
        if (z > 0.5) amount = Math.max(amount, spot.logAmount);
      });
      log[i] = Math.max(amount, lane.logLimit - 0.7);
    });
    penalty += hump(log);
  }
  return penalty;
}

function hump(log: Float64Array): number {
  const { depth, second } = deepestValley(log);
  const worst = Math.max(0, depth - EVEN);
  const next = Math.max(0, second - EVEN);
  return Math.min(ONE_LANE, PER_LOG * worst) + Math.min(MOST - ONE_LANE, PER_LOG * next);
}
