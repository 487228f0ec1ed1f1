import type { Evidence, Teeth } from "./evidence.ts";
import type { LaneEvidence } from "./told.ts";

/** How much each sign weighs; `figures` read this way, names of lanes read at the foot and at the head. */
type Weights = Readonly<Record<keyof Evidence | keyof Teeth | "figures", number>>;
type LaneWeights = Readonly<
  Record<keyof Evidence | keyof LaneEvidence | "figures" | "namesFoot" | "namesHead", number>
>;

/** Fitted to plates of many renderers as a conditional logit: see docs/methods/upright.md. */
export const WEIGHTS: Weights = {
  originRow: 2.19,
  teethFoot: 1.89,
  teethHead: -1.59,
  headTicks: -1.52,
  headSpots: -1.79,
  footLine: 2.13,
  headLine: 2.2,
  footLineRough: -4.43,
  headLineRough: 3.38,
  footMargin: 1.99,
  headMargin: -0.82,
  footBand: 0.17,
  headBand: 3.37,
  footBandRough: -3.05,
  footBandOnLine: 2.3,
  headBandOnLine: 1.45,
  footBandMargin: 1.68,
  headBandMargin: 0.57,
  footSpots: 1.08,
  layerStep: 0.62,
  lanes: 3.28,
  tailing: 1.91,
  skew: 1.09,
  widening: 0.49,
  centre: 0.33,
  figures: 2.41,
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
