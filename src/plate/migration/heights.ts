import type { RowCurve } from "./curves.ts";
import type { Evidence, Kind, Look } from "./evidence.ts";

/** A height at which a line may be, with all that is seen there. */
export interface Height {
  readonly curve: RowCurve;
  readonly rms: number;
  readonly seen: readonly Evidence[];
}

/** Heights that are taken to be one, as a share of the plate's. */
const SAME = 0.008;

/** Gathers what lies at one height. */
export function heightsOf(looks: readonly Look[], height: number): Height[] {
  const heights: { curve: RowCurve; rms: number; seen: Evidence[] }[] = [];
  for (const one of looks.flat().sort((a, b) => b.trust - a.trust)) {
    const near = heights.filter((h) => Math.abs(h.curve.y - one.curve.y) < SAME * height);
    if (near.length === 0) heights.push({ curve: one.curve, rms: one.rms, seen: [one] });
    else for (const h of near) h.seen.push(one);
  }
  return heights;
}

/** How plain the plainest of one kind is, 0 where none is. */
export function strongest({ seen }: Height, kind: Kind): number {
  return seen.reduce((most, e) => (e.kind === kind ? Math.max(most, e.strength) : most), 0);
}
