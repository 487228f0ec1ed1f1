import { smoothing } from "./detect.ts";
import { closed, opened } from "./opening.ts";
import { ACROSS, crossed, gapsOf, offsetOfColumn, quantile, RF_STEPS, rfOfRow, type Strip } from "./strip.ts";

/** Half the length, in rows, of what is too short to be slow ground: a spot that reaches into a gap (0.11 in Rf). */
const SPOT = 16;
/** The ground is smoothed by so many rows, one standard deviation. */
const smoothed = smoothing(6);

/** Share of the way from the left gap to the right one, per column. */
const ACROSS_GAPS = Float64Array.from({ length: ACROSS }, (_, c) => Math.min(1, Math.max(0, offsetOfColumn(c) + 0.5)));

/**
 * Takes off every lane, in place, the slow ground that its two gaps show: what is longer along the lane than a spot, smoothed,
 * going over from the left gap's to the right gap's across the lane. A stain's clouds and a mottled layer are wider than a lane,
 * so that its gaps know them. How high the ground lies on the whole stays as it was.
 * @param within how far from what is longer than a spot the gaps may go and still be followed
 */
export function takeOwnGroundOff(strips: readonly Strip[], within: number): void {
  const gaps = strips.flatMap(gapsOf);
  const slow = gaps.map((gap) => slowGround(gap, within));
  const rest = new Float64Array(gaps.length * OPEN_ROWS.length);
  for (let k = 0; k < gaps.length; k++) openRest(gaps[k], slow[k], rest, k * OPEN_ROWS.length);
  const lift = quantile(rest.sort(), 0.5);
  for (let lane = 0; lane < strips.length; lane++)
    takeGroundOff(slow[2 * lane], slow[2 * lane + 1], lift, strips[lane].data);
}

/** Rows that origin and front leave alone, every third. */
const OPEN_ROWS = Int32Array.from(
  Array.from({ length: RF_STEPS }, (_, r) => r).filter((r) => r % 3 === 0 && !crossed(rfOfRow(r))),
);

function slowGround(gap: Float64Array, within: number): Float64Array {
  const broad = closed(opened(gap, SPOT), SPOT);
  for (let r = 0; r < broad.length; r++) broad[r] = Math.max(broad[r] - within, Math.min(broad[r] + within, gap[r]));
  return smoothed(broad);
}

/** What open rows show besides their slow ground. */
function openRest(gap: Float64Array, slow: Float64Array, out: Float64Array, o: number): void {
  for (let i = 0; i < OPEN_ROWS.length; i++) out[o + i] = gap[OPEN_ROWS[i]] - slow[OPEN_ROWS[i]];
}

function takeGroundOff(left: Float64Array, right: Float64Array, lift: number, data: Float32Array): void {
  for (let r = 0; r < RF_STEPS; r++) takeRowOff(left[r] + lift, right[r] + lift, r, data);
}

function takeRowOff(left: number, right: number, r: number, data: Float32Array): void {
  for (let c = 0, i = r * ACROSS; c < ACROSS; c++, i++) data[i] -= left + (right - left) * ACROSS_GAPS[c];
}

/** One deviation of the profiles' noise, told from their lower part: spots stand in the upper one. */
export function lowerSpread(profiles: readonly Float64Array[]): number {
  const values = new Float64Array(profiles.length * OPEN_ROWS.length);
  let n = 0;
  for (const profile of profiles) for (const r of OPEN_ROWS) values[n++] = profile[r];
  values.sort();
  return quantile(values, 0.4) - quantile(values, 0.1);
}
