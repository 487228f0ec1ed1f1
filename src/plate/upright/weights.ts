import type { Evidence } from "./evidence.ts";
import type { LaneEvidence } from "./told.ts";

/** How much each sign weighs; `figures` read this way, names of lanes read at the foot and at the head. */
type Weights = Readonly<Record<keyof Evidence | "figures", number>>;
type LaneWeights = Readonly<
  Record<keyof Evidence | keyof LaneEvidence | "figures" | "namesFoot" | "namesHead", number>
>;

/** Fitted to plates of five renderers as a conditional logit: see docs/methods/upright.md. */
export const WEIGHTS: Weights = {
  originRow: 1.65,
  teethFoot: 1.69,
  teethHead: -1.57,
  headTicks: -1.39,
  headSpots: -1.48,
  footLine: 1.65,
  headLine: 2.3,
  footLineRough: -3.89,
  headLineRough: 3.22,
  footMargin: 1.77,
  headMargin: -0.62,
  footBand: -0.24,
  headBand: 3.68,
  footBandRough: -2.69,
  footBandOnLine: 2.51,
  headBandOnLine: 1.06,
  footBandMargin: 1.61,
  headBandMargin: 0.83,
  footSpots: 0.66,
  lanes: 3.1,
  belowOrigin: -1.47,
  tailing: 2.15,
  skew: 1.29,
  widening: 0.38,
  centre: 0.22,
  figures: 2.12,
};
/** The same where the lanes are told. */
export const LANE_WEIGHTS: LaneWeights = {
  originRow: 0.85,
  teethFoot: 0.61,
  teethHead: -0.5,
  headTicks: -1.29,
  headSpots: -1.06,
  footLine: 0.83,
  headLine: 1.59,
  footLineRough: -2.87,
  headLineRough: 2.73,
  footMargin: 1.92,
  headMargin: -0.22,
  footBand: 0.34,
  headBand: 3.55,
  footBandRough: -2.42,
  footBandOnLine: 2.01,
  headBandOnLine: 0.39,
  footBandMargin: 1.3,
  headBandMargin: 0.59,
  footSpots: 0.61,
  lanes: 2.95,
  belowOrigin: -1.25,
  tailing: 1.89,
  skew: 1.27,
  widening: 0.46,
  centre: 0.42,
  figures: 0.59,
  reference: 1.41,
  marksBelow: 2.39,
  wide: 3.04,
  order: 2.19,
  namesFoot: 2.07,
  namesHead: 2.06,
};
