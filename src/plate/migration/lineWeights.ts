/**
 * How much each sign of a line weighs, and how likely it is that none of the heights seen is the line: that it lies somewhere near
 * its customary place, or that the solvent ran off the plate. Fitted as conditional logits, the origin's to 1472 plates of seven renderers, the front's to 1071 of five: see
 * docs/methods/migration.md.
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
export const ORIGIN_UNSEEN = { custom: 0.46 };
export const FRONT_UNSEEN = { custom: -1.43, off: -1.03 };
