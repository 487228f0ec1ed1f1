/**
 * How much each sign of a line weighs, and how likely it is that none of the heights seen is the line: that it lies somewhere near
 * its customary place, or that the solvent ran off the plate. Fitted as conditional logits, to 1472 plates of seven renderers, but for
 * those of crosses, which are set: see docs/methods/migration.md.
 */
import type { FrontSigns } from "./frontSigns.ts";
import type { OriginSigns } from "./originSigns.ts";

export const ORIGIN_WEIGHTS: Readonly<Record<keyof OriginSigns, number>> = {
  high: -1.25,
  low: -2.1,
  pencil: 3.44,
  pencilSteady: 1.22,
  pencilPlain: 1.13,
  faint: 1.24,
  faintLow: 1.17,
  edges: 4.7,
  edge: 1.16,
  columns: 1.84,
  crosses: 3,
  row: 0.6,
  rowMany: 0.7,
  rowTicks: 1.26,
  rowAlike: 0.84,
  rowFigures: -1.08,
  broad: 1.41,
  broadFigures: -0.92,
  stands: 0.47,
  figuresBelow: 1.29,
  ticksAbove: -1.18,
  rowsAbove: -0.61,
  spotsBelow: -0.05,
  spotsHere: -2.28,
  lowestRest: 1.66,
  lineAbove: -2.18,
  lineBelow: -0.75,
};
export const FRONT_WEIGHTS: Readonly<Record<keyof FrontSigns, number>> = {
  lower: -1.03,
  upper: -2.62,
  rim: -1.27,
  rimAlone: -1.28,
  darkThin: 1.47,
  darkNarrow: 2.29,
  darkBroad: 0.19,
  dark: 2.09,
  bright: 2.02,
  step: 3.3,
  rise: 1.51,
  edges: -0.15,
  edge: 1.94,
  edgePlain: 2.05,
  short: 1.56,
  crosses: 5,
  kinds: 1.49,
  looks: 2.71,
  spotsAbove: 0.09,
  spotsOn: -3.91,
  other: -1.61,
};

/** Of what is not among the heights seen. */
export const ORIGIN_UNSEEN = { custom: 0.46 };
export const FRONT_UNSEEN = { custom: -0.88, off: -0.48 };
