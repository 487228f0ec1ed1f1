import { upperMedian } from "../../math/median.ts";
import type { MarkRow } from "../view.ts";

/** Marks of lanes leave most of the line bare; the dashes of a broken line cover more of it than this, and are many. */
const COVERED = 0.65;
const LEAST = 9;

/** True where a row's marks are the dashes of a line drawn broken: of them nothing is learnt about lanes. */
export function isBrokenLine({ marks }: MarkRow): boolean {
  if (marks.length < LEAST) return false;
  const sorted = [...marks].sort((a, b) => a.x0 - b.x0);
  const middles = sorted.map((m) => (m.x0 + m.x1) / 2);
  const gaps = middles.slice(1).map((x, i) => x - middles[i]);
  return upperMedian(sorted.map((m) => m.x1 - m.x0)) > COVERED * upperMedian(gaps);
}
