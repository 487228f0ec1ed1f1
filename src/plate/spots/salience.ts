import { convolved } from "../../math/convolve.ts";
import type { LaneProfiles } from "./profile.ts";
import { ACROSS, columnWeights, RF_STEPS, rfOfRow, type Strip } from "./strip.ts";

/** Standard deviation of the lane's own part across it, in pitches. */
const CORE_SIGMA = 0.17;
const CORE = columnWeights((o) => Math.exp(-0.5 * (o / CORE_SIGMA) ** 2));
const SIDES = columnWeights((o) => (Math.abs(o) > 0.4 && Math.abs(o) < 0.6 ? 1 : 0));
/** A ground without any noise must not make every grain stand out. */
const LEAST_SPREAD = 1e-5;

/**
 * How far each row of each lane stands out of its own surroundings, in robust deviations of the same figure over the
 * whole plate: the lane's core less its two sides, through a filter along the lane that is a usual spot less its mean.
 * Blotches of the ground, wider than a spot, fall out of it, and what they leave counts as noise.
 * @param logSigma natural logarithm of a usual spot's deviation along the lane, in rows
 * @returns per lane, RF_STEPS values
 */
export function salience({ strips }: Pick<LaneProfiles, "strips">, logSigma: number): Float64Array[] {
  const filter = spotFilter(Math.exp(logSigma));
  const lanes = strips.map((strip) => convolved(coreOf(strip), filter));
  const ground = Float64Array.from(lanes.flatMap((lane) => GROUND_ROWS.map((r) => lane[r]))).sort();
  const middle = ground[ground.length >> 1];
  const spread = Math.max(middle - ground[Math.floor(0.16 * ground.length)], LEAST_SPREAD);
  return lanes.map((lane) => lane.map((v) => (v - middle) / spread));
}

/** Rows that tell of the ground: away from origin and front, every third. */
const GROUND_ROWS = Array.from({ length: RF_STEPS }, (_, r) => r).filter(
  (r) => r % 3 === 0 && rfOfRow(r) > 0.06 && rfOfRow(r) < 0.93,
);

/** The lane's core less its two sides, row by row. */
function coreOf({ data }: Strip): Float64Array {
  const core = new Float64Array(RF_STEPS);
  for (let r = 0; r < RF_STEPS; r++) {
    let sum = 0;
    for (let c = 0; c < ACROSS; c++) sum += (CORE[c] - SIDES[c]) * data[r * ACROSS + c];
    core[r] = sum;
  }
  return core;
}

/** A Gaussian less its mean, so scaled that a spot of that shape answers with its height. */
function spotFilter(sigma: number): Float64Array {
  const reach = Math.ceil(3.2 * sigma);
  const spot = Float64Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-0.5 * ((i - reach) / sigma) ** 2));
  const mean = spot.reduce((a, b) => a + b, 0) / spot.length;
  const gain = spot.reduce((a, k) => a + (k - mean) * k, 0);
  return spot.map((k) => (k - mean) / gain);
}

/** The most a lane stands out within three rows of one. */
export function salienceAt(lane: Float64Array, row: number): number {
  const middle = Math.round(row);
  let most = Number.NEGATIVE_INFINITY;
  for (let r = Math.max(0, middle - 3); r <= Math.min(lane.length - 1, middle + 3); r++) most = Math.max(most, lane[r]);
  return most;
}
