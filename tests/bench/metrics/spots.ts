import type { ResultLane, ResultSpot } from "../../../src/model/index.ts";
import type { LaneTruth, SpotTruth } from "../../../src/render/index.ts";
import type { PlateMatch } from "./plates.ts";
import type { Tally } from "./score.ts";

/** A hit lies within this of the true Rf. */
export const RF_TOLERANCE = 0.03;

export interface SpotPair {
  readonly truth: SpotTruth;
  readonly read: ResultSpot;
}

export interface LaneScore {
  readonly lane: LaneTruth;
  readonly pairs: readonly SpotPair[];
  readonly missed: readonly SpotTruth[];
  readonly invented: readonly ResultSpot[];
}

/**
 * Pairs spots one to one within the tolerance, nearest first, those that must be found before the others. A true
 * spot that need not be found is neither a miss nor, when read, an invention.
 */
export function matchSpots(lane: LaneTruth, read: readonly ResultSpot[]): LaneScore {
  const pairs: SpotPair[] = [];
  const taken = new Set<SpotTruth | ResultSpot>();
  for (const must of [true, false]) {
    const close = lane.spots
      .filter((spot) => spot.mustFind === must)
      .flatMap((truth) => read.map((spot) => ({ truth, read: spot, off: Math.abs(spot.rf - truth.rf) })))
      .filter(({ off }) => off <= RF_TOLERANCE)
      .sort((a, b) => a.off - b.off);
    for (const pair of close) {
      if (taken.has(pair.truth) || taken.has(pair.read)) continue;
      taken.add(pair.truth);
      taken.add(pair.read);
      pairs.push({ truth: pair.truth, read: pair.read });
    }
  }
  return {
    lane,
    pairs,
    missed: lane.spots.filter((spot) => spot.mustFind && !taken.has(spot)),
    invented: read.filter((spot) => !taken.has(spot)),
  };
}

/** The lane that was read at a true lane's place: by number where the count is right, else the nearest within half a pitch. */
function laneFor(truth: LaneTruth, match: PlateMatch): ResultLane | null {
  const read = match.read?.lanes ?? [];
  if (read.length === match.truth.lanes.length) return read[truth.index - 1];
  const xs = match.truth.lanes.map((l) => l.x);
  const pitch = xs.length > 1 ? (xs[xs.length - 1] - xs[0]) / (xs.length - 1) : 1;
  const near = read.filter((l) => Math.abs(l.x - truth.x) < pitch / 2);
  const best = near.sort((a, b) => Math.abs(a.x - truth.x) - Math.abs(b.x - truth.x))[0];
  const rival = best && match.truth.lanes.find((l) => Math.abs(l.x - best.x) < Math.abs(truth.x - best.x));
  return rival ? null : (best ?? null);
}

/** Scores all lanes of a plate; spots of lanes that do not exist are invented. */
export function scoreLanes(match: PlateMatch): LaneScore[] {
  const used = new Set<ResultLane>();
  const scores = match.truth.lanes.map((truth) => {
    const lane = laneFor(truth, match);
    if (lane) used.add(lane);
    return matchSpots(truth, lane?.spots ?? []);
  });
  const stray = (match.read?.lanes ?? []).filter((lane) => !used.has(lane)).flatMap((lane) => lane.spots);
  return stray.length && scores.length
    ? [{ ...scores[0], invented: [...scores[0].invented, ...stray] }, ...scores.slice(1)]
    : scores;
}

export function tallyOf(scores: readonly LaneScore[]): Tally {
  return {
    hits: scores.reduce((n, s) => n + s.pairs.filter((p) => p.truth.mustFind).length, 0),
    invented: scores.reduce((n, s) => n + s.invented.length, 0),
    missed: scores.reduce((n, s) => n + s.missed.length, 0),
  };
}
