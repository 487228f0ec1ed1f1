/**
 * How much each sign of a line weighs, and how likely it is that none of the heights seen is the line: that it lies somewhere near
 * its customary place, or that the solvent ran off the plate. Fitted as conditional logits, the origin's to 664 plates of three renderers, the front's to 1071 of five: see
 * docs/methods/migration.md.
 */
import type { FrontSigns } from "./frontSigns.ts";
import type { OriginSigns } from "./originSigns.ts";

export const ORIGIN_WEIGHTS: Readonly<Record<keyof OriginSigns, number>> = {
  high: -0.99,
  low: -2.04,
  pencil: 2.18,
  pencilSteady: 0.84,
  pencilPlain: 0.77,
  faint: 1.19,
  faintLow: 1.34,
  edges: 3.25,
  edge: 1.02,
  columns: 1.23,
  row: 0.75,
  rowMany: 0.74,
  rowTicks: 1.44,
  rowAlike: 0.57,
  rowFigures: -1.3,
  broad: 0.77,
  broadFigures: -0.42,
  stands: 0.92,
  figuresBelow: 1.41,
  ticksAbove: -0.85,
  rowsAbove: -0.84,
  spotsBelow: -0.37,
  spotsHere: -1.38,
  lowestRest: 1.09,
  lineAbove: -2.04,
  lineBelow: -0.55,
};
export const FRONT_WEIGHTS: Readonly<Record<keyof FrontSigns, number>> = {
  lower: -1.01,
  upper: -2.5,
  rim: -1.19,
  rimAlone: -1.16,
  darkThin: 1.27,
  darkNarrow: 2.07,
  darkBroad: -0.03,
  dark: 1.65,
  bright: 2.02,
  step: 1.97,
  edges: -0.28,
  edge: 1.35,
  edgePlain: 1.75,
  short: 1.16,
  kinds: 1.43,
  looks: 2.09,
  spotsAbove: 0.15,
  spotsOn: -3.97,
  other: -0.97,
};

/** Of what is not among the heights seen. */
export const ORIGIN_UNSEEN = { custom: -0.6 };
export const FRONT_UNSEEN = { custom: -1.43, off: -1.03 };
