import type { LaneName } from "../../model/index.ts";
import { SPOT } from "./blobs.ts";
import type { Signs } from "./signs.ts";

/** What is told of a plate's lanes. */
export interface ToldLanes {
  /** From left to right, two at least. */
  readonly names: readonly LaneName[];
  /** Mean fraction number of the plate over the highest of the run, 0..1; null: no lane is a fraction. */
  readonly late: number | null;
}

/** What the lanes that are told say about a plate's stand. */
export interface LaneEvidence {
  /** How much more the reference lanes show than the fractions: logarithm of the ratio. All that is in a fraction is in the crude. */
  readonly reference: number;
  /** How far darkness below the origin stands at the lanes' places: names, sharp or not, and ticks. */
  readonly marksBelow: number;
  /** Many lanes need a wide plate: logarithm of width over height times that of lanes over the usual number. */
  readonly wide: number;
  /** Early fractions hold what runs far, late ones what lags: how far below the middle the spots are, by how late they are. */
  readonly order: number;
}

/** Way from lane to lane in parts of the plate's width divided by the number of lanes: people use nearly all of it. */
const PITCH = 0.87;
const USUAL_LANES = 7;

/** Where a lane lies, as a share of the plate's width, as people divide it. */
export function laneAt(lane: number, lanes: number): number {
  return 0.5 + ((lane - (lanes - 1) / 2) * PITCH) / lanes;
}

/**
 * Looks at a plate as if it stood front up.
 * @param centre how far below the middle its spots lie
 */
export function laneEvidenceOf(signs: Signs, { names, late }: ToldLanes, centre: number): LaneEvidence {
  return {
    reference: reference(signs, names),
    marksBelow: comb(darkness(signs), names.length, 0.01 * signs.height),
    wide: Math.log(signs.width / signs.height) * Math.log(names.length / USUAL_LANES),
    order: late === null ? 0 : centre * (late - 0.5),
  };
}

/** Spots are looked for between these shares of the height, in so many steps; a pixel counts for so much at most. */
const LOOK = { from: 0.1, to: 0.86, steps: 48, most: 20 };
/** Nothing is as good as this share of the mean, and this. */
const GROUND = { share: 0.15, least: 20 };

function reference(signs: Signs, names: readonly LaneName[]): number {
  const references = names.filter(({ fraction }) => fraction === null).length;
  if (references === 0 || names.length - references < 2) return 0;
  const spots = spotsByColumn(signs);
  // Lanes lie as people divide plates, but some leave more room at one side: half is asked where the spots stand.
  const grids = [usualGrid(names.length, signs.width), gridOfSpots(spots, names.length)];
  return grids.reduce((sum, grid) => sum + showsMore(spots, names, grid), 0) / grids.length;
}

/** Where lanes lie: the middle of the first, and the way from each to the next, in pixels. */
interface Grid {
  readonly first: number;
  readonly way: number;
}

function usualGrid(lanes: number, width: number): Grid {
  return { first: laneAt(0, lanes) * width, way: (PITCH * width) / lanes };
}

interface Spots {
  readonly width: number;
  /** Rows of a step. */
  readonly rows: number;
  /** Column by column, from step to step down the plate. */
  readonly masses: Float32Array;
}

function spotsByColumn({ width, height, spots }: Signs): Spots {
  const masses = new Float32Array(width * LOOK.steps);
  for (let y = Math.round(LOOK.from * height); y < LOOK.to * height; y++) {
    const step = Math.floor((y * LOOK.steps) / height);
    for (let x = 0, i = y * width; x < width; x++, i++)
      if (spots[i] > SPOT) masses[x * LOOK.steps + step] += Math.min(LOOK.most, spots[i] - SPOT);
  }
  return { width, rows: height / LOOK.steps, masses };
}

/** How far lanes that show spots may be shifted, in ways from lane to lane, and what a shift costs as a share of all that is there. */
const SPOT_SHIFTS = Array.from({ length: 21 }, (_, i) => (i - 10) / 10);
const SHIFT_COST = 0.02;

/** The grid whose lanes hold most of what is there. */
function gridOfSpots({ width, masses }: Spots, lanes: number): Grid {
  const columns = Float64Array.from({ length: width }, (_, x) => {
    let sum = 0;
    for (let k = x * LOOK.steps; k < (x + 1) * LOOK.steps; k++) sum += masses[k];
    return Math.sqrt(sum);
  });
  const between = sumsOf(columns);
  const total = between(0, width);
  let best = { worth: Number.NEGATIVE_INFINITY, grid: usualGrid(lanes, width) };
  for (const pitch of PITCHES)
    for (const shift of SPOT_SHIFTS) {
      const way = (pitch * width) / lanes;
      const first = 0.5 * width + (shift - (lanes - 1) / 2) * way;
      let worth = -between(first - way / 2, first + (lanes - 0.5) * way) / 2 - SHIFT_COST * Math.abs(shift) * total;
      for (let lane = 0; lane < lanes; lane++)
        worth += between(first + (lane - 0.25) * way, first + (lane + 0.25) * way);
      if (worth > best.worth) best = { worth, grid: { first, way } };
    }
  return best.grid;
}

/** Logarithm of what reference lanes show over what fractions show, means. */
function showsMore({ width, rows, masses }: Spots, names: readonly LaneName[], { first, way }: Grid): number {
  const count = names.length;
  const sums = new Float64Array(count * LOOK.steps);
  for (let x = 0, i = 0; x < width; x++) {
    const lane = Math.max(0, Math.min(count - 1, Math.round((x - first) / way)));
    for (let step = 0; step < LOOK.steps; step++, i++) sums[lane * LOOK.steps + step] += masses[i];
  }
  // A root, so that many faint spots count for more than a heavy one.
  const shown = names.map((_, lane) =>
    sums
      .subarray(lane * LOOK.steps, (lane + 1) * LOOK.steps)
      .reduce((sum, mass) => sum + Math.sqrt(mass / rows) * rows, 0),
  );
  const mean = (of: boolean) => {
    const those = shown.filter((_, lane) => (names[lane].fraction === null) === of);
    return those.reduce((sum, v) => sum + v, 0) / those.length;
  };
  const ground = (GROUND.share * shown.reduce((sum, v) => sum + v, 0)) / count + GROUND.least;
  return Math.log((mean(true) + ground) / (mean(false) + ground));
}

/** Below the origin: shares of the height; what counts as dark, for how much at most, and a column for how much of the height. */
const BELOW = { from: 0.86, to: 0.97, least: 0.5, most: 3, column: 0.1 };

/** How dark each column is below the origin. */
function darkness({ width: w, height: h, shade }: Signs): Float64Array {
  const columns = new Float64Array(w);
  for (let y = Math.round(BELOW.from * h); y < BELOW.to * h; y++)
    for (let x = 0, i = y * w; x < w; x++, i++) columns[x] += Math.max(0, Math.min(BELOW.most, shade[i] - BELOW.least));
  return columns.map((v) => Math.min(v, BELOW.column * h));
}

/** Ways from lane to lane as above, and how far the whole may be shifted, in such ways. */
const PITCHES = [0.74, 0.77, 0.8, 0.83, 0.86, 0.89, 0.92, 0.95, 0.98];
const SHIFTS = [-0.3, -0.24, -0.18, -0.12, -0.06, 0, 0.06, 0.12, 0.18, 0.24, 0.3];

/** How far columns are darker at the places of lanes than between them, over their mean and a ground; the best of ways and shifts. */
function comb(columns: Float64Array, lanes: number, ground: number): number {
  const w = columns.length;
  const between = sumsOf(columns);
  const count = (from: number, to: number) => within(w, to) - within(w, from);
  let best = 0;
  for (const pitch of PITCHES)
    for (const shift of SHIFTS) {
      const way = (pitch * w) / lanes;
      let [on, onCount, all, allCount] = [0, 0, 0, 0];
      for (let lane = 0; lane < lanes; lane++) {
        const middle = 0.5 * w + (shift + lane - (lanes - 1) / 2) * way;
        on += between(middle - way / 4, middle + way / 4);
        onCount += count(middle - way / 4, middle + way / 4);
        all += between(middle - way / 2, middle + way / 2);
        allCount += count(middle - way / 2, middle + way / 2);
      }
      if (onCount > 0 && allCount > onCount) best = Math.max(best, on / onCount - (all - on) / (allCount - onCount));
    }
  return best / (between(0, w) / w + ground);
}

/** Sums of values from one place to another; what lies outside counts as nothing. */
function sumsOf(values: Float64Array): (from: number, to: number) => number {
  const n = values.length;
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i] + values[i];
  return (from, to) => sums[within(n, to)] - sums[within(n, from)];
}

function within(n: number, x: number): number {
  return Math.max(0, Math.min(n, Math.round(x)));
}
