import { upperMedian } from "../math/median.ts";
import type { MarkRow } from "./view.ts";

/** Distance below which two marks are digits of one figure, as a share of the plate's width, and of how high they are. */
const DIGITS = { ofWidth: 0.012, ofHeight: 0.42 };

/** Middles of the marks of a row from the left, the digits of one figure joined, in pixels. */
export function figureCentres(row: MarkRow, width: number): number[] {
  const height = upperMedian(row.marks.map((m) => m.y1 - m.y0));
  const near = Math.min(DIGITS.ofWidth * width, DIGITS.ofHeight * height);
  const groups: { x0: number; x1: number }[] = [];
  for (const m of [...row.marks].sort((a, b) => a.x0 - b.x0)) {
    const last = groups[groups.length - 1];
    if (last && m.x0 - last.x1 < near) last.x1 = Math.max(last.x1, m.x1);
    else groups.push({ x0: m.x0, x1: m.x1 });
  }
  return groups.map((g) => (g.x0 + g.x1) / 2);
}
