/**
 * How much each sign of a line weighs, and how likely it is that none of the heights seen is the line: that it lies somewhere near
 * its customary place, or that the solvent ran off the plate. Fitted as a conditional logit to 485 plates of three renderers: see
 * docs/methods/migration.md.
 */
import type { FrontSigns } from "./frontSigns.ts";
import type { OriginSigns } from "./originSigns.ts";

export const ORIGIN_WEIGHTS: Readonly<Record<keyof OriginSigns, number>> = {
  high: -0.8,
  low: -1.56,
  pencil: 2.11,
  pencilSteady: 1.03,
  pencilPlain: 0.98,
  faint: 0.84,
  faintLow: 0.94,
  edges: 2.93,
  edge: 1.08,
  columns: 1.02,
  row: 0.79,
  rowMany: 0.87,
  rowTicks: 1.34,
  rowAlike: 0.68,
  rowFigures: -1.35,
  broad: 0.49,
  broadFigures: -0.25,
  stands: 1.37,
  figuresBelow: 1.54,
  ticksAbove: -0.73,
  rowsAbove: -1.06,
  spotsBelow: -0.5,
  lowestRest: 0.75,
  lineAbove: -1.77,
  lineBelow: -0.53,
};
export const FRONT_WEIGHTS: Readonly<Record<keyof FrontSigns, number>> = {
  lower: -1.24,
  upper: -2.62,
  rim: -0.77,
  rimAlone: -0.67,
  darkThin: 0.73,
  darkNarrow: 1.57,
  darkBroad: 1.26,
  dark: 1.92,
  bright: 1.86,
  step: 1.1,
  edges: 0.04,
  edge: -0.11,
  kinds: 1.99,
  looks: 1.16,
  spotsAbove: -0.13,
  spotsOn: -2.01,
  other: -0.06,
};

/** Of what is not among the heights seen. */
export const ORIGIN_UNSEEN = { custom: -0.62 };
export const FRONT_UNSEEN = { custom: -2.79, off: -2.68 };
