import { smoothRows } from "./detect.ts";
import { closed, opened } from "./opening.ts";
import { ACROSS, crossed, gapsOf, offsetOfColumn, quantile, RF_STEPS, rfOfRow, type Strip } from "./strip.ts";

/** Half the length, in rows, of what is too short to be slow ground: a spot that reaches into a gap (0.11 in Rf). */
const SPOT = 16;
/** Standard deviation, in rows, that the ground is smoothed by. */
const SMOOTH = 6;

/** Share of the way from the left gap to the right one, per column. */
const ACROSS_GAPS = Float64Array.from({ length: ACROSS }, (_, c) => Math.min(1, Math.max(0, offsetOfColumn(c) + 0.5)));

/**
 * Takes off every lane, in place, the slow ground that its two gaps show: what is longer along the lane than a spot, smoothed,
 * going over from the left gap's to the right gap's across the lane. A stain's clouds and a mottled layer are wider than a lane,
 * so that its gaps know them. How high the ground lies on the whole stays as it was.
 * @param within how far from what is longer than a spot the gaps may go and still be followed
 */
export function takeOwnGroundOff(strips: readonly Strip[], within: number): void {
  const gaps = strips.map(gapsOf);
  const slow = gaps.map((pair) => pair.map((gap) => slowGround(gap, within)));
  const rest = gaps.flatMap((pair, lane) =>
    pair.flatMap((gap, side) => OPEN_ROWS.map((r) => gap[r] - slow[lane][side][r])),
  );
  const lift = quantile(
    rest.sort((a, b) => a - b),
    0.5,
  );
  strips.forEach(({ data }, lane) => {
    const [left, right] = slow[lane];
    for (let r = 0; r < RF_STEPS; r++) takeRowOff(left[r] + lift, right[r] + lift, r, data);
  });
}

/** Rows that origin and front leave alone, every third. */
const OPEN_ROWS = Array.from({ length: RF_STEPS }, (_, r) => r).filter((r) => r % 3 === 0 && !crossed(rfOfRow(r)));

function slowGround(gap: Float64Array, within: number): Float64Array {
  const broad = closed(opened(gap, SPOT), SPOT);
  return smoothRows(
    gap.map((v, r) => Math.max(broad[r] - within, Math.min(broad[r] + within, v))),
    SMOOTH,
  );
}

function takeRowOff(left: number, right: number, r: number, data: Float32Array): void {
  for (let c = 0, i = r * ACROSS; c < ACROSS; c++, i++) data[i] -= left + (right - left) * ACROSS_GAPS[c];
}

/** One deviation of the profiles' noise, told from their lower part: spots stand in the upper one. */
export function lowerSpread(profiles: readonly Float64Array[]): number {
  const values = profiles.flatMap((profile) => OPEN_ROWS.map((r) => profile[r])).sort((a, b) => a - b);
  return quantile(values, 0.4) - quantile(values, 0.1);
}
