import type { Spot } from "../../model/index.ts";
import type { PlateFrame } from "../frame.ts";
import { evidenceVector, type SpotEvidence, spotConfidence } from "./evidence.ts";
import type { Candidate } from "./group.ts";
import type { FirstLook } from "./judge.ts";
import { neighboursOf } from "./neighbours.ts";
import { salience, salienceAt } from "./salience.ts";
import type { View } from "./views.ts";

/** A candidate spot with what its confidence is judged by. */
export interface JudgedSpot {
  readonly spot: Spot;
  /** What the logistic model weighs. */
  readonly evidence: readonly number[];
  /** Share of its height by which its lane falls on both sides of it before it rises again: 0 where it has no top of its own. */
  readonly rise: number;
}

/** A candidate after the first look. */
export interface LookedAt extends FirstLook {
  /** Its clearest appearance, and the row of its mode there. */
  readonly lead: Candidate;
  readonly mode: number;
  /** It was put where spots of the lanes beside stand. */
  readonly put: boolean;
}

/**
 * Judges every candidate anew, now that the rest of the plate has been looked at: a substance comes off in neighbouring
 * tubes and looks alike in them, and the ground's own unrest shows how little a faint blotch means.
 * @param lanes candidates of each lane
 * @param mixtures which lanes are said to show no tube but the crude mixture or the like
 */
export function secondLook(
  lanes: readonly (readonly LookedAt[])[],
  views: readonly View[],
  frame: PlateFrame,
  mixtures: readonly boolean[],
): JudgedSpot[][] {
  const standing = views.map((v) => salience(v.profiles, v.prior.logSigma));
  const tops = views.map((_, view) =>
    Math.max(
      1e-6,
      ...lanes
        .flat()
        .filter((l) => l.lead.view === view)
        .map((l) => l.lead.peak.height),
    ),
  );
  return lanes.map((inLane, lane) =>
    inLane.map((look) => {
      const { x } = frame.tracks[lane];
      const evidence: SpotEvidence = {
        features: look.features,
        salience: salienceAt(standing[look.lead.view][lane], look.mode),
        likeness: look.likeness,
        neighbours: neighboursOf(lanes, lane, look),
        mixture: mixtures[lane] ?? false,
        put: look.put,
        edgeLane: lane === 0 || lane === lanes.length - 1,
        toEdge: Math.min(x, 1 - x) / frame.pitch,
        stand: look.stand,
        rank: Math.log(look.lead.peak.height / tops[look.lead.view]),
        peak: look.lead.peak,
      };
      const spot = { ...look.spot, confidence: spotConfidence(evidence) };
      return { spot, evidence: evidenceVector(evidence), rise: look.stand.rise };
    }),
  );
}
