import type { RowCurve } from "./curves.ts";

/** Something that may be the origin, or the front. */
export interface Evidence {
  readonly curve: RowCurve;
  /** How far its points lie off the curve, in rows. */
  readonly rms: number;
  /** The way of looking that shows it, and how plainly, whatever its height. */
  readonly kind: Kind;
  readonly strength: number;
  /** Of all that is seen at a height, what has the most trust says exactly where the line lies. */
  readonly trust: number;
}

export type Kind =
  | "pencil"
  | "faint"
  | "edges"
  | "edge"
  | "columns"
  | "row"
  | "foot"
  | "figures"
  | "short"
  | "crosses"
  | "step"
  | "rise"
  | `${"dark" | "bright"}${"Thin" | "Narrow" | "Broad"}`;

/** What one way of looking at one photo shows. */
export type Look = readonly Evidence[];
