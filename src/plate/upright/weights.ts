import type { Evidence, Untold } from "./evidence.ts";
import type { LaneEvidence } from "./told.ts";

/** How much each sign weighs; `figures` read this way, names of lanes read at the foot and at the head. */
type Weights = Readonly<Record<keyof Evidence | keyof Untold | "figures", number>>;
type LaneWeights = Readonly<
  Record<keyof Evidence | keyof LaneEvidence | "figures" | "namesFoot" | "namesHead", number>
>;

/** Fitted to plates of many renderers as a conditional logit: see docs/methods/upright.md. */
export const WEIGHTS: Weights = {
  originRow: 2.27,
  marksFoot: 1.6,
  strokesFoot: 2.11,
  teethHead: -1.53,
  headTicks: -1.46,
  headSpots: -1.71,
  footLine: 2.28,
  headLine: 2.12,
  footLineRough: -4.57,
  headLineRough: 3.45,
  footMargin: 2.08,
  headMargin: -0.91,
  footBand: 0.26,
  headBand: 3.24,
  footBandRough: -3.13,
  footBandOnLine: 2.25,
  headBandOnLine: 1.45,
  footBandMargin: 1.78,
  headBandMargin: 0.45,
  footSpots: 0.99,
  layerStep: 0.66,
  headEdge: 1.37,
  lanes: 3.33,
  tailing: 2.01,
  skew: 1.05,
  widening: 0.53,
  centre: 0.44,
  figures: 2.38,
};
/** The same where the lanes are told. */
export const LANE_WEIGHTS: LaneWeights = {
  originRow: 0.88,
  headTicks: -1.22,
  headSpots: -0.92,
  footLine: 1.2,
  headLine: 1.39,
  footLineRough: -3.31,
  headLineRough: 3.14,
  footMargin: 2.19,
  headMargin: -0.52,
  footBand: 0.72,
  headBand: 3.34,
  footBandRough: -2.8,
  footBandOnLine: 2.09,
  headBandOnLine: 0.34,
  footBandMargin: 1.48,
  headBandMargin: 0.33,
  footSpots: 0.56,
  layerStep: 0.58,
  lanes: 3.1,
  tailing: 1.68,
  skew: 1.15,
  widening: 0.7,
  centre: 0.56,
  figures: 0.71,
  reference: 1.53,
  marksBelow: 3.67,
  strokesBelow: 2.81,
  wide: 3.04,
  order: 2.11,
  namesFoot: 2.01,
  namesHead: 2.13,
};
