import type { SignalMap } from "../view.ts";
import type { PlateFrame } from "../frame.ts";
import { boxBlur } from "../../raster/blur.ts";
import { ACROSS, cutStrip, offsetOfColumn, RF_STEPS, rfOfRow, type Strip } from "./strip.ts";

/** One photo's lanes, straightened, with what the whole plate shares taken off. */
export interface LaneProfiles {
  /** Per lane: RF_STEPS x ACROSS, the shared ground removed. */
  readonly strips: readonly Strip[];
  /** Per lane: weighted mean across the lane, per Rf row. */
  readonly profiles: readonly Float64Array[];
  /** Standard deviation of such a profile over bare ground. */
  readonly noise: number;
}

/** Weight of each column of a strip in the lane's profile: a Gaussian of 0.19 pitch, about half a spot. */
const LANE_WEIGHTS = weightsOf((o) => Math.exp(-0.5 * (o / 0.19) ** 2));
const LEFT_GAP = weightsOf((o) => (o < -0.42 && o > -0.58 ? 1 : 0));
const RIGHT_GAP = weightsOf((o) => (o > 0.42 && o < 0.58 ? 1 : 0));

function weightsOf(f: (offset: number) => number): Float64Array {
  const w = Float64Array.from({ length: ACROSS }, (_, c) => f(offsetOfColumn(c)));
  const sum = w.reduce((a, b) => a + b, 0);
  return w.map((v) => v / sum);
}

function across(strip: Strip, weights: Float64Array): Float64Array {
  const out = new Float64Array(RF_STEPS);
  for (let r = 0; r < RF_STEPS; r++) {
    let s = 0;
    for (let c = 0; c < ACROSS; c++) s += weights[c] * strip.data[r * ACROSS + c];
    out[r] = s;
  }
  return out;
}

/** Value below which the share q of the sorted sample lies. */
function quantile(sorted: readonly number[], q: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? 0;
}

/**
 * Straightens every lane of one photo and takes off, row by row of the common Rf scale, what the gaps between the
 * lanes show (the front band, pencil lines, a step in the ground): their lower third, so that wide spots reaching into
 * a gap do not eat into their neighbours.
 */
export function laneProfiles(map: SignalMap, frame: PlateFrame): LaneProfiles {
  const way = Math.abs(frame.origin.y - frame.front.y) * map.height;
  const ry = Math.max(0, Math.round((way * 1.16) / RF_STEPS / 2 - 0.3));
  const rx = Math.max(0, Math.round((frame.pitch * map.width * 1.2) / ACROSS / 2 - 0.3));
  const plane = boxBlur(map.mix, rx, ry);
  const raw = frame.tracks.map((t) => cutStrip(plane, frame, t));
  const gaps = raw.flatMap((s) => [across(s, LEFT_GAP), across(s, RIGHT_GAP)]);
  const shared = new Float64Array(RF_STEPS);
  for (let r = 0; r < RF_STEPS; r++) {
    const values = gaps.map((g) => g[r]).sort((a, b) => a - b);
    shared[r] = quantile(values, 0.35);
  }
  const strips = raw.map((s) => {
    const data = new Float32Array(s.data.length);
    for (let r = 0; r < RF_STEPS; r++)
      for (let c = 0; c < ACROSS; c++) data[r * ACROSS + c] = s.data[r * ACROSS + c] - shared[r];
    return { data };
  });
  const profiles = strips.map((s) => across(s, LANE_WEIGHTS));
  const rest: number[] = [];
  for (const g of gaps)
    for (let r = 0; r < RF_STEPS; r++) {
      const rf = rfOfRow(r);
      if (rf > 0.04 && rf < 0.93) rest.push(g[r] - shared[r]);
    }
  rest.sort((a, b) => a - b);
  const gapNoise = quantile(rest, 0.5) - quantile(rest, 0.16);
  return { strips, profiles, noise: Math.max(0.7 * gapNoise, 0.15 * map.noise, 1e-5) };
}
