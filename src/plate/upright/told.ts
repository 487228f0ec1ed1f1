import type { LaneName } from "../../model/index.ts";
import { marksBelow, strokesBelow } from "./below.ts";
import { SPOT } from "./blobs.ts";
import { PITCHES, sumsOf } from "./columns.ts";
import type { Signs, Soft } from "./signs.ts";

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
  /** How far darkness below the origin stands at the lanes' places, at most of them: names, sharp or not, and ticks. */
  readonly marksBelow: number;
  /** The same for strokes on the origin and below it. */
  readonly strokesBelow: number;
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
    reference: reference(signs.soft, names),
    marksBelow: marksBelow(signs.soft, [names.length]),
    strokesBelow: strokesBelow(signs, [names.length]),
    wide: Math.log(signs.width / signs.height) * Math.log(names.length / USUAL_LANES),
    order: late === null ? 0 : centre * (late - 0.5),
  };
}

/** Spots are looked for between these shares of the height, in so many steps; a pixel counts for so much at most. */
const LOOK = { from: 0.1, to: 0.86, steps: 48, most: 20 };
/** Nothing is as good as this share of the mean, and this. */
const GROUND = { share: 0.15, least: 7 };

function reference(signs: Soft, names: readonly LaneName[]): number {
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

function spotsByColumn({ width, height, spots }: Soft): Spots {
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
