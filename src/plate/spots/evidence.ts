import { featureVector, type SpotFeatures } from "./confidence.ts";
import { WEIGHTS } from "./evidenceWeights.ts";
import type { Stand } from "./judge.ts";
import type { Neighbours } from "./neighbours.ts";
import type { Peak } from "./peaks.ts";

/** What a candidate is judged by at the second look, when the whole plate has been looked at once. */
export interface SpotEvidence {
  readonly features: SpotFeatures;
  /** How far it stands out of its surroundings, in deviations. */
  readonly salience: number;
  /** Correlation with a spot of its widths, -1..1. */
  readonly likeness: number;
  readonly neighbours: Neighbours;
  /** True in a lane that shows no tube but the crude mixture or the like: what stands in it need not stand in the lanes beside. */
  readonly mixture: boolean;
  /** True where it was put at the place of spots of the lanes beside. */
  readonly put: boolean;
  /** True in the first and the last lane. */
  readonly edgeLane: boolean;
  /** Distance of its lane from the nearer edge of the plate, in pitches. */
  readonly toEdge: number;
  readonly stand: Stand;
  /** Its height over that of the highest candidate of the plate in the same view, natural logarithm: 0 or less. */
  readonly rank: number;
  readonly peak: Pick<Peak, "tail" | "flat" | "logSigma">;
}

/** Likeness in colour taken for granted where there is nothing to compare with. */
const USUAL_LIKENESS = 0.9;

/** The evidence as the logistic model takes it, in the order of `WEIGHTS`. */
export function evidenceVector(e: SpotEvidence): number[] {
  const out = Math.log(1 + Math.max(0, e.salience));
  const { next, second, far, sameRf, plate } = e.neighbours;
  return [
    ...featureVector(e.features),
    out,
    Math.max(0, Math.min(1, e.salience / 4)),
    e.likeness,
    Math.max(0, e.likeness - 0.6),
    next[0],
    next[1],
    second,
    far,
    // What stands at one Rf in many lanes is a substance only if it looks like one.
    next[0] * e.likeness,
    next[0] * out,
    sameRf ?? USUAL_LIKENESS,
    sameRf === null ? 1 : 0,
    plate?.median ?? USUAL_LIKENESS,
    plate?.most ?? USUAL_LIKENESS,
    e.edgeLane ? 1 : 0,
    e.toEdge,
    e.peak.tail,
    e.peak.flat,
    e.peak.logSigma,
    e.features.width,
    e.stand.rise,
    Math.max(0, 0.15 - e.stand.rise),
    shareLog(e.stand.beside[0]),
    shareLog(e.stand.beside[1]),
    Math.max(-0.5, Math.min(1.5, e.stand.borders[0])),
    Math.max(-0.5, Math.min(1.5, e.stand.borders[1])),
    Math.max(0, Math.min(1.5, e.stand.borders[0] - 0.7)),
    e.stand.elsewhere === null ? 1 : 0,
    Math.log(1 + Math.max(0, e.stand.elsewhere ?? 0)),
    e.rank,
    Math.max(0, -3 - e.rank),
    e.mixture ? 1 : 0,
    e.put ? 1 : 0,
  ];
}

/** Logarithm of a share that may be 0 or less, and not above e^4. */
function shareLog(share: number): number {
  return Math.log(Math.min(55, Math.max(0.05, share)));
}

/** Probability that a candidate is a spot, 0..1: logistic regression, weights as docs/methods/spots.md says. */
export function spotConfidence(e: SpotEvidence): number {
  const x = evidenceVector(e);
  let logit = 0;
  for (let i = 0; i < x.length; i++) logit += WEIGHTS[i] * x[i];
  return 1 / (1 + Math.exp(-logit));
}
