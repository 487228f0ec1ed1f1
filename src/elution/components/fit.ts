import { placeDensity } from "./densities.ts";
import { disorder, humps } from "./elutionOrder.ts";
import type { Ground } from "./ground.ts";
import { type LaneMatch, matchLane, newLaneMatch } from "./laneMatch.ts";
import { fitScales, onPlate, type PlateScale, SCALE_TERMS, sumsAt } from "./plateScale.ts";
import { expectedPresence } from "./presence.ts";
import { type FeatureSums, featureEvidence } from "./signature.ts";
import { featureSums, SCATTER, scatter, spotSums } from "./spotSums.ts";

/** Log odds asked for one component more, besides what its own freedom costs. */
const NEW_COMPONENT = 0.5;

/** Log odds against two substances of one Rf, and how far apart (Rf) that stops to count: no plate could show the difference. */
const TWINS = 20;
const TWINS_REACH = 0.017;

/** One explanation of all plates: substances, plate scales, and what each spot stands for. */
export interface Explanation {
  /** Common Rf of each component, falling. */
  readonly centres: readonly number[];
  readonly centreSds: readonly number[];
  readonly scales: readonly PlateScale[];
  /** Standard deviation of Rf common to all spots. */
  readonly sd: number;
  /** [lane x component] expected chance, and chance after looking. */
  readonly expected: Float64Array;
  readonly present: Float64Array;
  readonly matches: readonly LaneMatch[];
  readonly features: readonly FeatureSums[];
  /** Log posterior, up to a constant: the higher, the better. */
  readonly score: number;
}

/** What a refinement starts from. */
export interface Start {
  readonly centres: readonly number[];
  readonly scales: readonly PlateScale[];
  readonly sd: number;
  /** [lane x component]; null: nothing known yet. */
  readonly present: Float64Array | null;
  readonly features: readonly FeatureSums[] | null;
  /** [lane][spot x component] meanings to fit centres and scales to before the first matching; null: none given. */
  readonly given: readonly Float64Array[] | null;
}

/** A start with no plate scale known. */
export function blankStart(ground: Ground, centres: readonly number[]): Start {
  return {
    centres,
    scales: ground.priors.map(() => new Float64Array(SCALE_TERMS)),
    sd: SCATTER,
    present: null,
    features: null,
    given: null,
  };
}

/** Where an explanation stands, as a start. */
export function startOf(e: Explanation): Start {
  return { centres: e.centres, scales: e.scales, sd: e.sd, present: e.present, features: e.features, given: null };
}

/**
 * Expectation and maximisation in turn (Dempster, Laird, Rubin 1977), `rounds` times: match every lane, then refit
 * centres, plate scales, scatter, features and expected presence.
 */
export function refine(ground: Ground, start: Start, rounds: number): Explanation {
  const { lanes } = ground;
  const order = start.centres.map((_, k) => k).sort((a, b) => start.centres[b] - start.centres[a]);
  const count = order.length;
  let centres = order.map((k) => start.centres[k]);
  let scales = start.scales;
  let sd = start.sd;
  let features = start.features ? order.map((k) => start.features![k]) : null;
  const present = new Float64Array(lanes.length * count).fill(0.3);
  if (start.present) {
    for (let l = 0; l < lanes.length; l++)
      order.forEach((k, to) => {
        present[l * count + to] = start.present![l * count + k];
      });
  }
  const expected = new Float64Array(lanes.length * count);
  const matches = lanes.map((lane) => newLaneMatch(lane.spots.length, count));
  if (start.given) {
    lanes.forEach((_, l) => {
      matches[l].alone.set(start.given![l]);
    });
    const fitted = fitScales(centres, spotSums(ground, centres, scales, sd, matches), ground.priors);
    centres = fallingApart(fitted.centres);
    scales = fitted.scales;
  }
  let sums = new Float64Array(0);
  for (let round = 0; ; round++) {
    expectedPresence(lanes, ground.around, present, count, expected);
    matchAll(ground, centres, scales, sd, features, expected, matches, present);
    sums = spotSums(ground, centres, scales, sd, matches);
    if (round === rounds) break;
    const fitted = fitScales(centres, sums, ground.priors);
    centres = fallingApart(fitted.centres);
    scales = fitted.scales;
    sd = scatter(ground, centres, scales, sd, matches);
    features = featureSums(ground, matches, count);
  }
  const weight = centres.map((_, k) => ground.priors.reduce((s, _p, p) => s + sums[sumsAt(p, k, count)], 0));
  const centreSds = weight.map((w) => 1 / Math.sqrt(w + 1 / 0.25 ** 2));
  let score = -scalePenalty(scales, ground.priors);
  for (const match of matches) score += match.logLikelihood;
  for (const s of centreSds) score += Math.log(s * Math.sqrt(2 * Math.PI)) - NEW_COMPONENT;
  score -= twins(centres);
  score -= disorder(lanes, present, count) + humps(lanes, matches, count);
  return { centres, centreSds, scales, sd, expected, present, matches, features: features ?? [], score };
}

function matchAll(
  ground: Ground,
  centres: readonly number[],
  scales: readonly PlateScale[],
  sd: number,
  features: readonly FeatureSums[] | null,
  expected: Float64Array,
  matches: readonly LaneMatch[],
  present: Float64Array,
): void {
  const count = centres.length;
  const places = new Float64Array(count);
  ground.lanes.forEach((lane, l) => {
    for (let k = 0; k < count; k++) places[k] = onPlate(scales[lane.plate], centres[k], lane.u);
    const evidence = lane.spots.length > 0 ? new Float64Array(lane.spots.length * count).fill(1) : places;
    if (features) {
      lane.spots.forEach((spot, i) => {
        for (let k = 0; k < count; k++) {
          if (Math.abs(spot.rf - places[k]) < 0.06)
            evidence[i * count + k] = Math.exp(
              featureEvidence(spot.features, spot.logAmount, ground.space, features[k]),
            );
        }
      });
    }
    matchLane(
      lane,
      places,
      expected.subarray(l * count, (l + 1) * count),
      evidence,
      sd * sd,
      ground.widths,
      matches[l],
      present.subarray(l * count, (l + 1) * count),
      elsewhere(ground, l, places, evidence, sd * sd, present),
    );
  });
}

/**
 * Likelihood that a spot which two lanes claim is the other one's, whatever it stands for there: it then says nothing of
 * this lane, so that what the other tubes show decides whose it is.
 * @param evidence as in `matchLane`, or null where lights and colour do not matter
 * @returns [spot x component], or null where no spot of the lane is claimed twice
 */
export function elsewhere(
  ground: Ground,
  l: number,
  places: ArrayLike<number>,
  evidence: Float64Array | null,
  variance: number,
  present: Float64Array,
): Float64Array | null {
  if (ground.twice[l].length === 0) return null;
  const count = places.length;
  const { spots } = ground.lanes[l];
  const out = new Float64Array(spots.length * count);
  for (const [i, other] of ground.twice[l]) {
    for (let k = 0; k < count; k++)
      out[i * count + k] =
        spots[i].real *
        spots[i].single *
        present[other * count + k] *
        placeDensity(spots[i].rf - places[k], variance + spots[i].extraVar) *
        (evidence?.[i * count + k] ?? 1);
  }
  return out;
}

/** Keeps centres falling and at least 0.004 apart, so that matching in order stays meaningful. */
function fallingApart(centres: readonly number[]): number[] {
  const sorted = [...centres].sort((a, b) => b - a);
  for (let k = 1; k < sorted.length; k++) sorted[k] = Math.min(sorted[k], sorted[k - 1] - 0.004);
  return sorted;
}

function twins(centres: readonly number[]): number {
  let sum = 0;
  for (let k = 1; k < centres.length; k++)
    sum += TWINS * Math.exp(-0.5 * ((centres[k - 1] - centres[k]) / TWINS_REACH) ** 4);
  return sum;
}

function scalePenalty(scales: readonly PlateScale[], priors: readonly Float64Array[]): number {
  let sum = 0;
  scales.forEach((scale, p) => {
    for (let t = 0; t < SCALE_TERMS; t++) sum += 0.5 * (scale[t] / priors[p][t]) ** 2;
  });
  return sum;
}
