import { clusters } from "./clusters.ts";
import { blankStart, type Explanation, refine, startOf } from "./fit.ts";
import { type Ground, portion } from "./ground.ts";
import { matchLane, newLaneMatch } from "./laneMatch.ts";
import { leavingOut } from "./moves.ts";
import { offPlate, onPlate, type PlateScale, SCALE_TERMS } from "./plateScale.ts";

export const MAX_COMPONENTS = 40;

/**
 * A first explanation: plates laid on one another one after the other, each where it fits best, with components for what
 * then stands alone.
 */
export function layPlates(ground: Ground, plateOrder: readonly number[]): Explanation {
  let start = blankStart(ground, []);
  let known: { ground: Ground; explained: Explanation } | null = null;
  const laid = new Set<number>();
  for (const plate of plateOrder) {
    if (known) start = { ...start, scales: fitOne(ground, known.ground, known.explained, plate) };
    laid.add(plate);
    const part = laid.size === plateOrder.length ? ground : portion(ground, laid);
    const loose: number[] = [];
    for (const lane of part.lanes) {
      if (lane.plate !== plate) continue;
      for (const spot of lane.spots) {
        const rf = offPlate(start.scales[plate], spot.rf, lane.u);
        if (spot.real > 0.3 && !start.centres.some((c) => Math.abs(c - rf) < 0.015)) loose.push(rf);
      }
    }
    const centres = [...start.centres, ...clusters(loose, 0.02)].slice(0, MAX_COMPONENTS);
    const explained = prune(part, refine(part, { ...start, centres, present: null, features: null }, 4));
    known = { ground: part, explained };
    start = startOf(explained);
  }
  return known ? refine(ground, startOf(known.explained), 3) : refine(ground, start, 0);
}

/** Drops, one by one, the components that the score is better without. */
function prune(ground: Ground, from: Explanation): Explanation {
  let best = from;
  for (;;) {
    const weak = weakest(ground, best);
    if (weak === null) return best;
    const without = refine(ground, leavingOut(best, weak), 2);
    if (without.score <= best.score) return best;
    best = without;
  }
}

function weakest(ground: Ground, e: Explanation): number | null {
  const count = e.centres.length;
  let weak: number | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < count; k++) {
    let sum = 0;
    for (let l = 0; l < ground.lanes.length; l++) sum += e.present[l * count + k];
    if (sum < least) {
      least = sum;
      weak = k;
    }
  }
  return weak;
}

/**
 * Plate scales with that of one plate replaced by the best of a grid, all else as it stands.
 * @param known the ground that `e` explains; it need not hold the plate
 */
export function fitOne(ground: Ground, known: Ground, e: Explanation, plate: number): PlateScale[] {
  const count = e.centres.length;
  const prior = ground.priors[plate];
  const lanes = ground.lanes.filter((lane) => lane.plate === plate && lane.spots.length > 0);
  const expected = lanes.map((lane) => expectedAt(known, e, lane.tube, plate));
  const evidence = lanes.map((lane) => new Float64Array(lane.spots.length * count).fill(1));
  const scratch = lanes.map((lane) => newLaneMatch(lane.spots.length, count));
  const present = new Float64Array(count);
  const places = new Float64Array(count);
  let best = e.scales[plate];
  let top = Number.NEGATIVE_INFINITY;
  const rate = (scale: PlateScale) => {
    let score = 0;
    for (let t = 0; t < SCALE_TERMS; t++) score -= 0.5 * (scale[t] / prior[t]) ** 2;
    lanes.forEach((lane, l) => {
      for (let k = 0; k < count; k++) places[k] = onPlate(scale, e.centres[k], lane.u);
      matchLane(lane, places, expected[l], evidence[l], e.sd * e.sd, ground.widths, scratch[l], present);
      score += scratch[l].logLikelihood;
    });
    return score;
  };
  const candidates: PlateScale[] = [e.scales[plate]];
  for (let a = -2.5; a <= 2.5; a += 0.5)
    for (let b = -1.5; b <= 1.5; b += 0.75) candidates.push(Float64Array.of(a * prior[0], b * prior[1], 0, 0));
  for (const scale of candidates) {
    const score = rate(scale);
    if (score > top + 1e-9) {
      top = score;
      best = scale;
    }
  }
  return e.scales.map((s, p) => (p === plate ? best : s));
}

/** Chance of each component in a tube, from the lanes of the other plates alone. */
function expectedAt(known: Ground, e: Explanation, tube: number | null, plate: number): Float64Array {
  const count = e.centres.length;
  const sums = new Float64Array(count).fill(0.1);
  let all = 0.4;
  known.lanes.forEach((lane, l) => {
    if (lane.plate === plate || (lane.tube === null) !== (tube === null)) return;
    const w = tube === null ? 1 : Math.exp(-Math.abs((lane.tube ?? 0) - tube) / 2);
    if (w < 1e-3) return;
    for (let k = 0; k < count; k++) sums[k] += w * e.present[l * count + k];
    all += w;
  });
  return sums.map((s) => Math.min(0.97, Math.max(0.01, s / all)));
}
