import type { Component, PlateReading, Spot, SpotAssignment } from "../model/index.ts";
import { WEIGHTS } from "./listedWeights.ts";

/** What tells whether a whole plate's scale and lanes may be wrong, in the order of `WEIGHTS.plate`. */
export interface ScaleSigns {
  /** ln of the odds that origin and front are right, all plates of the run taken together. */
  readonly logLines: number;
  /** ln of the plate's size in pixels, of its smallest photo. */
  readonly logPixels: number;
  /** How far its spots stand from their components on the run's common scale, their mean, Rf; at most 0.05. */
  readonly offset: number;
  /** Share of its spots that no component takes. */
  readonly loose: number;
}

/** A plate that was laid on the others wrongly may stand off by any amount: from here on more says no more. */
const FAR_OFF = 0.05;
/** Rf below which marks on the start line are more likely than spots: they say nothing of the scale. */
const OFF_ORIGIN = 0.03;

/** The signs of one plate, read from its lines, its photos and what the run makes of its spots. */
export function scaleSigns(
  { id, photos, linesSure, lanes }: PlateReading,
  assignments: readonly SpotAssignment[],
  components: readonly Component[],
): ScaleSigns {
  const scale = new Map(components.map((c) => [c.id, c.rf]));
  const own = new Map(assignments.filter((a) => a.plate === id).map((a) => [`${a.lane}/${a.spot}`, a.component]));
  const offsets: number[] = [];
  let spots = 0;
  for (const lane of lanes)
    for (const [i, spot] of lane.spots.entries()) {
      if (spot.rf <= OFF_ORIGIN) continue;
      spots++;
      const rf = scale.get(own.get(`${lane.index}/${i}`) ?? "");
      if (rf !== undefined) offsets.push(spot.rf - rf);
    }
  const offset = offsets.reduce((sum, v) => sum + v, 0) / Math.max(1, offsets.length);
  return {
    logLines: logOdds(linesSure, LINES),
    logPixels: Math.log(Math.max(1, Math.min(...photos.map((p) => p.quality.platePx)))),
    offset: Math.min(FAR_OFF, Math.abs(offset)),
    loose: spots === 0 ? 0 : 1 - offsets.length / spots,
  };
}

/**
 * Probability that a spot is right as it is listed, 0..1: that it is there (`Spot.confidence`, and more so where it lies on the track
 * that other lanes show), and that its plate's lanes and Rf scale are not mistaken, which makes all its spots wrong at once. What a
 * person said stays certain. Weights and figures: docs/methods/spots.md.
 * @param onTrack how well it lies on the tracks of the run's other spots (`plate/together`)
 */
export function listedConfidence({ confidence }: Pick<Spot, "confidence">, onTrack: number, signs: ScaleSigns): number {
  if (confidence >= 1) return 1;
  const plate = [signs.logLines, signs.logPixels, signs.offset, signs.loose];
  return logistic(WEIGHTS.spot, [logOdds(confidence, SPOT), onTrack]) * logistic(WEIGHTS.plate, plate);
}

/** Probabilities are kept this far from 0 and 1: of a spot, of a plate's lines. */
const SPOT = { low: 1e-4, high: 1e-4 };
const LINES = { low: 0.01, high: 0.0005 };

function logOdds(p: number, { low, high }: { readonly low: number; readonly high: number }): number {
  const kept = Math.min(1 - high, Math.max(low, p));
  return Math.log(kept / (1 - kept));
}

function logistic([constant, ...weights]: readonly number[], x: readonly number[]): number {
  return 1 / (1 + Math.exp(-weights.reduce((sum, w, i) => sum + w * x[i], constant)));
}
