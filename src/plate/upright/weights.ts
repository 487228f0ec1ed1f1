import type { Evidence } from "./evidence.ts";
import type { LaneEvidence } from "./told.ts";

/** How much each sign weighs; `figures` read this way, names of lanes read at the foot and at the head. */
type Weights = Readonly<Record<keyof Evidence | "figures", number>>;
type LaneWeights = Readonly<
  Record<keyof Evidence | keyof LaneEvidence | "figures" | "namesFoot" | "namesHead", number>
>;

/** Fitted to plates of four renderers as a conditional logit: see docs/methods/upright.md. */
export const WEIGHTS: Weights = {
  originRow: 1.56,
  teethFoot: 1.68,
  teethHead: -1.54,
  headTicks: -1.51,
  headSpots: -1.88,
  footLine: 1.63,
  headLine: 2.28,
  footLineRough: -3.11,
  headLineRough: 3.56,
  footMargin: 1.98,
  headMargin: -0.66,
  footBand: -0.24,
  headBand: 3.66,
  footBandRough: -2.21,
  footBandOnLine: 2.47,
  headBandOnLine: 1.1,
  footBandMargin: 1.87,
  headBandMargin: 0.81,
  footSpots: 0.92,
  lanes: 3.0,
  belowOrigin: -0.88,
  tailing: 1.9,
  skew: 1.18,
  widening: 0.8,
  centre: 0.71,
  figures: 2.06,
};
/** The same where the lanes are told. */
export const LANE_WEIGHTS: LaneWeights = {
  originRow: 0.86,
  teethFoot: 0.84,
  teethHead: -0.73,
  headTicks: -1.44,
  headSpots: -1.39,
  footLine: 0.83,
  headLine: 1.58,
  footLineRough: -2.04,
  headLineRough: 2.39,
  footMargin: 1.84,
  headMargin: -0.15,
  footBand: 0.38,
  headBand: 3.52,
  footBandRough: -2.08,
  footBandOnLine: 1.98,
  headBandOnLine: 0.42,
  footBandMargin: 1.39,
  headBandMargin: 0.7,
  footSpots: 0.94,
  lanes: 2.64,
  belowOrigin: -0.17,
  tailing: 2.11,
  skew: 1.01,
  widening: 0.53,
  centre: 0.64,
  figures: 0.56,
  reference: 1.38,
  marksBelow: 2.58,
  wide: 2.66,
  order: 2.45,
  namesFoot: 2.05,
  namesHead: 2.08,
};
