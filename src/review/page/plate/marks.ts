import type { ResultLane, ResultPlate, ResultSpot } from "../../../model/index.ts";
import { type LanePlacement, placeLane } from "../../../report/drawing/placement.ts";

/** A point in the units of a drawing. */
export interface At {
  readonly x: number;
  readonly y: number;
}

/** Something on the plate that a person has hold of. */
export type Held =
  | { readonly what: "origin" | "front" }
  | { readonly what: "lane"; readonly lane: number }
  | { readonly what: "spot"; readonly lane: number; readonly spot: number };

export function sameHeld(a: Held, b: Held): boolean {
  return (
    a.what === b.what &&
    (!("lane" in a) || !("lane" in b) || a.lane === b.lane) &&
    (!("spot" in a) || !("spot" in b) || a.spot === b.spot)
  );
}

/** How large marks are drawn on a straightened plate of w x h pixels. */
export interface TabSize {
  readonly w: number;
  readonly h: number;
  /** Pixels of the picture to a pixel of lettering. */
  readonly unit: number;
  /** Width of a lane's label. */
  readonly tab: (label: string) => number;
}

export function sizeOfMarks(plate: ResultPlate, w: number, h: number): TabSize {
  const unit = Math.min(w / 460, (narrowest(plate) * w) / 38);
  return { w, h, unit, tab: (label) => Math.max(34, shortLabel(label).length * 8 + 4) * unit };
}

export function shortLabel(label: string): string {
  return label.length > 6 ? `${label.slice(0, 5)}…` : label;
}

/** Half-widths of the ellipse around a spot. */
export function sizeOfSpot(place: LanePlacement, spot: ResultSpot, { w, h, unit }: TabSize) {
  return {
    rx: Math.max(7 * unit, spot.width_x * 0.62 * w),
    ry: Math.max(6 * unit, spot.width_rf * (place.originY - place.frontY) * 0.62 * h),
  };
}

/** Middle of the lane's label, between origin and lower edge. */
export function footOf(plate: ResultPlate, lane: ResultLane): number {
  const { originY } = placeLane(plate, lane);
  return Math.min(0.965, originY + Math.min(0.07, (1 - originY) * 0.6));
}

/** Distance of the two closest lanes, as a fraction of the plate's width: labels must not touch. */
function narrowest({ lanes }: ResultPlate): number {
  const xs = lanes.map((l) => l.x).sort((a, b) => a - b);
  return Math.min(1, ...xs.slice(1).map((x, i) => x - xs[i]));
}
